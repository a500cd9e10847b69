/* The quick note, from the first page: a meter read, something used, something found, a round done, a
   line of words. One screen, the same entry, the same way home. */
garboard.part("note", function (garboard) {
  "use strict";

  var kept, kit;

  function open() {
    garboard.need("kept", function (part) {
      kept = part;
      kept.outfit(function (made) {
        kit = made;
        fill(kit.forms.screen(kit.forms.say("note-title")), { id: kit.entry.recordId(), day: kit.entry.today(), words: "", meters: {}, parts: [], findings: [], rounds: [] });
      });
    });
  }

  /* The rounds that a crew makes: routine guides. */
  function rounds(chosen) {
    var guides = kit.boat.guides.filter(function (guide) { return guide.routine; });
    var box = kit.forms.section(kit.forms.say("rounds"));
    var boxes = guides.map(function (guide) {
      var row = kit.forms.choice("checkbox", "round", guide.id, guide.title, chosen.indexOf(guide.id) >= 0);
      box.appendChild(row);
      return { guide: guide, input: row.input };
    });
    var ticked = function () { return boxes.filter(function (one) { return one.input.checked; }).map(function (one) { return one.guide; }); };
    return {
      box: guides.length ? box : null,
      read: function () { return ticked().map(function (guide) { return guide.id; }); },
      titles: function () { return ticked().map(function (guide) { return guide.title; }); },
      /* A round over several pieces of gear is done on each. */
      keys: function () {
        return [].concat.apply([], ticked().map(function (guide) {
          return (guide.gear || []).length ? guide.gear.map(function (one) { return guide.id + "/" + one; }) : [guide.id];
        }));
      }
    };
  }

  function fill(screen, state) {
    var forms = kit.forms, entry = kit.entry, say = forms.say, make = forms.make;
    screen.fresh(say("note-title"));
    var form = make("form", { novalidate: true });
    var line = forms.section(say("words"));
    var words = forms.text(state.words);
    line.appendChild(forms.field(say("line"), words));
    var round = rounds(state.rounds);
    var day = forms.field(say("day"), forms.date(state.day));
    var meters = kit.fields.meters(state.meters, function () { return day.input.value; });
    var parts = kit.fields.parts(say("used"), [], state.parts, say("used-note"));
    var findings = kit.fields.findings(state.findings);
    var when = forms.section(say("when"));
    when.appendChild(day);
    [round.box, meters.box, parts.box, findings.box, line, when].forEach(function (part) { if (part) form.appendChild(part); });
    var amiss = make("p.amiss", { role: "alert" });
    form.appendChild(amiss);
    form.appendChild(make("p.acts.atthumb", {}, make("button.primary", { type: "submit" }, say("make"))));
    screen.body.appendChild(form);
    var list = kept.list(function (record) {
      kept.show(screen, record, true, record.form && record.form.note ? function () { fill(screen, record.form); } : null);
    });
    if (list) screen.body.appendChild(list);

    /* What to call a note in which no words and no job stand. */
    function called(keys) {
      if (findings.read().length) return findings.read()[0].what;
      if (parts.titles().length) return say("used-these", { items: parts.titles().join(", ") });
      return Object.keys(keys.meters).length ? say("meters-read") : "";
    }

    day.input.addEventListener("change", function () { meters.bad(); });
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      day.tell(entry.isDay(day.input.value) ? "" : say("no-day"));
      var bad = entry.isDay(day.input.value) ? meters.bad() || parts.bad() : day;
      if (bad) {
        amiss.textContent = say("amiss");
        return void bad.input.focus();
      }
      var keys = { jobs: round.keys(), work: [], date: new entry.Figure(day.input.value) };
      keys.meters = meters.keys();
      keys.parts = parts.keys();
      keys.findings = findings.keys();
      var said = entry.line(words.value) || (keys.jobs.length ? "" : called(keys));
      if (!said && !keys.jobs.length) {
        amiss.textContent = say("nothing");
        return void words.focus();
      }
      amiss.textContent = "";
      if (said) keys.work = [said];
      var now = { note: true, id: state.id, state: (state.state || 0) + 1, day: day.input.value, words: words.value, meters: meters.read(), parts: parts.read(), findings: findings.read(), rounds: round.read() };
      var record = {
        id: state.id, day: now.day, title: said || round.titles().join(", "), job: keys.jobs.length ? keys.jobs[0].split("/")[0] : said,
        state: now.state, text: entry.text(now.id, now.state, keys, ""), savedAt: new Date().toISOString(), form: now
      };
      kept.show(screen, record, kept.keep(record), function () { fill(screen, now); });
    });
  }

  return { open: open };
});
