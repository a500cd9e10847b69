/* Making the record of a job: a form that is filled with what the page knows, then the text of the
   entry, which is kept here until it is brought home. `open(draft)`; every key of the draft may be
   missing: {jobs, guide, gear, title, begun, finished, reached, left, minutes, readings, findings, except,
   notes}. Once the entry is kept, the work it was made from is told so: `garboard.clearWork(guide, gear)`. */
garboard.part("record", function (garboard) {
  "use strict";

  var kept, kit;
  var DRAFT = "record-draft";

  /* What the guide's page tells of its parts, readings and gear. */
  function jobOf(guide) {
    var place = document.getElementById("_job");
    var sheet = document.getElementById("sheet");
    var found = null;
    if (place && sheet && (!guide || sheet.getAttribute("data-guide") === guide)) {
      try { found = JSON.parse(place.textContent); } catch (spoiled) { found = null; }
    }
    return found || { parts: [], readings: [], gear: [] };
  }

  /* The form as it stands when it is first opened. */
  function stateOf(draft) {
    var today = kit.entry.today();
    var minutes = Math.round(draft.minutes) || 0;
    /* Days that a wrong clock has told are asked for. */
    var done = today && /^\d{4}-\d\d-\d\d/.test(String(draft.finished)) ? String(draft.finished).slice(0, 10) : today;
    return {
      id: kit.entry.recordId(), state: 0, given: JSON.stringify(draft), guide: draft.guide || "", gear: draft.gear || null, begun: draft.begun || "", title: draft.title || draft.guide || "",
      jobs: draft.jobs || (draft.guide ? [draft.guide] : []),
      open: draft.finished === false, started: today && String(draft.begun || done).slice(0, 10), done: done,
      reached: draft.reached || "", left: (draft.left || []).join("\n"),
      hours: minutes >= 60 ? String(Math.floor(minutes / 60)) : "", minutes: minutes % 60 ? String(minutes % 60) : "",
      meters: {}, readings: draft.readings || {}, parts: [], findings: draft.findings || [], except: (draft.except || []).join("\n"), by: "", doneBy: "", notes: draft.notes || ""
    };
  }

  /* What was typed survives a page that is left by mistake, and a record of the same work that is kept
     here goes on: it stays one record. What the page has learnt since then counts before what was typed. */
  function remembered(state) {
    var found = null;
    var alike = function (form) { return form && !form.note && form.guide === state.guide && (form.gear || null) === state.gear; };
    var same = function (form) { return alike(form) && form.begun === state.begun && state.begun !== ""; };
    var records = kept.all().map(function (one) { return one.form; });
    try { found = JSON.parse(garboard.recall(DRAFT)); } catch (spoiled) { found = null; }
    if (!same(found)) found = records.filter(same).pop();
    if (found && found.given === state.given) return found;
    if (!found) {
      found = records.filter(function (form) { return alike(form) && form.open; }).pop();
      if (!found) return state;
      /* An earlier sitting: the times add up, and the work began then. */
      var sum = 60 * (+found.hours + +state.hours) + +found.minutes + +state.minutes;
      state.hours = sum >= 60 ? String(Math.floor(sum / 60)) : "";
      state.minutes = sum % 60 ? String(sum % 60) : "";
      state.started = found.started;
      state.since = found.started;
      if (found.notes) state.notes = [found.notes, state.notes].filter(Boolean).join("\n\n");
    }
    ["id", "state", "meters", "parts", "by", "doneBy"].forEach(function (key) { if (found[key]) state[key] = found[key]; });
    state.readings = Object.assign({}, found.readings, state.readings);
    state.notes = state.notes || found.notes || "";
    var known = state.findings.map(function (one) { return kit.entry.line(one.what); });
    state.findings = state.findings.concat((found.findings || []).filter(function (one) { return known.indexOf(one.what) < 0; }));
    return state;
  }

  function open(draft) {
    garboard.need("kept", function (part) {
      kept = part;
      kept.outfit(function (made) {
        kit = made;
        var state = remembered(stateOf(draft || {}));
        fill(kit.forms.screen(title(state)), state);
      });
    });
  }

  function title(state) { return kit.forms.say("title", { job: state.title }); }

  /* Fields of the readings: one, or one a point; outside its limits each says so at once. */
  function readings(specs, values) {
    var forms = kit.forms;
    var box = forms.section(forms.say("readings"));
    var rows = [];
    specs.forEach(function (spec) {
      var given = values[spec.id];
      (spec.points && spec.points.length ? spec.points : [null]).forEach(function (point) {
        var value = point === null ? given : (given || {})[point];
        var input = forms.figure(typeof value === "string" || typeof value === "number" ? bare(value, spec.unit) : "", spec.unit);
        var row = forms.field(point === null ? spec.name : spec.name + ", " + point, input, limits(spec));
        row.spec = spec;
        row.point = point;
        row.judge = function () {
          var typed = input.value.trim();
          var read = kit.entry.number(typed);
          row.bad = typed !== "" && read === null;
          var outside = typed !== "" && !row.bad && ((spec.low && +read < +spec.low) || (spec.high && +read > +spec.high));
          row.tell(row.bad ? forms.say("no-number") : outside ? forms.say("outside") : "");
        };
        input.addEventListener("input", row.judge);
        row.judge();
        rows.push(row);
        box.appendChild(row);
      });
    });
    function gather(value) {
      var found = {};
      rows.forEach(function (row) {
        if (row.input.value.trim() === "") return;
        if (row.point === null) found[row.spec.id] = value(row);
        else (found[row.spec.id] = found[row.spec.id] || Object.create(null))[row.point] = value(row);
      });
      return found;
    }
    return {
      box: rows.length ? box : null,
      bad: function () { return kit.fields.firstBad(rows); },
      read: function () { return gather(function (row) { return row.input.value; }); },
      keys: function () {
        return gather(function (row) { return new kit.entry.Figure(kit.entry.number(row.input.value) + " " + row.spec.unit); });
      }
    };
  }

  /* A reading may come with its unit. */
  function bare(value, unit) {
    var text = kit.entry.line(value);
    return text.slice(-unit.length) === unit ? text.slice(0, -unit.length).trim() : text;
  }

  function limits(spec) {
    var say = kit.forms.say;
    if (spec.low && spec.high) return say("between", { low: spec.low, high: spec.high, unit: spec.unit });
    if (spec.low) return say("at-least", { low: spec.low, unit: spec.unit });
    return spec.high ? say("at-most", { high: spec.high, unit: spec.unit }) : null;
  }

  /* Which of several pieces of gear it was done on. */
  function gear(job, jobs) {
    if (!job.gear.length) return null;
    var box = kit.forms.section(kit.forms.say("gear"));
    var boxes = job.gear.map(function (one) {
      var named = jobs.some(function (name) { return name.split("/")[1] === one.id; });
      var row = kit.forms.choice("checkbox", "gear", one.id, one.title, named);
      box.appendChild(row);
      return row.input;
    });
    return { box: box, chosen: function () { return boxes.filter(function (input) { return input.checked; }).map(function (input) { return input.value; }); } };
  }

  function fill(screen, state) {
    var forms = kit.forms, entry = kit.entry, say = forms.say, make = forms.make;
    var job = jobOf(state.guide);
    screen.fresh(title(state));
    var form = make("form", { novalidate: true });
    if (state.since) form.appendChild(make("p.since", {}, say("since", { day: forms.dayText(state.since) })));

    var when = forms.section(say("when"));
    var name = forms.id("end");
    var finished = forms.choice("radio", name, "finished", say("finished"), !state.open);
    var unfinished = forms.choice("radio", name, "open", say("unfinished"), state.open);
    var started = forms.field(say("started"), forms.date(state.started));
    var done = forms.field(say("done"), forms.date(state.done));
    var hours = forms.field(say("hours"), forms.text(state.hours, { inputmode: "numeric", class: "short" }));
    var minutes = forms.field(say("minutes"), forms.text(state.minutes, { inputmode: "numeric", class: "short" }));
    [finished, unfinished, make("div.pair", {}, started, done), make("div.pair", {}, hours, minutes)].forEach(function (part) { when.appendChild(part); });

    var leaving = forms.section(say("leaving"));
    var stages = Array.prototype.map.call(document.querySelectorAll("#steps .stage h3"), function (head) { return head.textContent; });
    if (state.reached && stages.indexOf(state.reached) < 0) stages.unshift(state.reached);
    var reached = stages.length
      ? forms.select(state.reached, [["", say("not-said")]].concat(stages.map(function (stage) { return [stage, stage]; })))
      : forms.text(state.reached);
    var left = forms.field(say("left"), forms.area(state.left, 4), say("a-line-each"));
    var from = forms.field(say("reached"), reached);
    /* An entry of a finished job has no place for how she was left: what is still so becomes a finding. */
    var found = make("p.amiss", {}, say("left-finding"));
    [from, found, left].forEach(function (part) { leaving.appendChild(part); });

    /* The meters of an open job count for the day it was begun. */
    var day = function () { return unfinished.input.checked ? started.input.value : done.input.value; };
    var meters = kit.fields.meters(state.meters, day);
    var measured = readings(job.readings, state.readings);
    var gears = gear(job, state.jobs);
    var parts = kit.fields.parts(say("parts"), job.parts, state.parts, job.parts.length ? say("tick-used") : null);
    var findings = kit.fields.findings(state.findings);
    var who = forms.section(say("who"));
    var doneBy = forms.select(state.doneBy, [["", say("not-said")]].concat(["owner", "yard", "licensed"].map(function (one) { return [one, say("by-" + one)]; })));
    var by = forms.text(state.by);
    who.appendChild(forms.field(say("done-by"), doneBy));
    who.appendChild(forms.field(say("by"), by, say("private")));
    var words = forms.section(say("words"));
    var except = state.except ? forms.field(say("except"), forms.area(state.except, 3), say("a-line-each")) : null;
    if (except) words.appendChild(except);
    var notes = forms.area(state.notes, 5);
    words.appendChild(forms.field(say("notes"), notes));

    [when, leaving, gears && gears.box, meters.box, measured.box, parts.box, findings.box, who, words].forEach(function (part) {
      if (part) form.appendChild(part);
    });
    var amiss = make("p.amiss", { role: "alert" });
    form.appendChild(amiss);
    form.appendChild(make("p.acts", {}, make("button.primary", { type: "submit" }, say("make"))));
    screen.body.appendChild(form);
    var list = kept.list(function (record) { kept.show(screen, record, true, again(screen, record)); });
    if (list) screen.body.appendChild(list);

    function ends() {
      var open = unfinished.input.checked;
      leaving.hidden = !open && !lines(left.input.value).length;
      leaving.firstChild.textContent = open ? say("leaving") : say("still-so");
      from.hidden = !open;
      found.hidden = open;
      done.hidden = unfinished.input.checked;
      meters.bad();
    }

    function lines(text) { return text.split("\n").map(entry.line).filter(Boolean); }

    function read() {
      return {
        id: state.id, state: state.state, given: state.given, guide: state.guide, gear: state.gear, since: state.since, begun: state.begun, title: state.title, jobs: state.jobs, open: unfinished.input.checked,
        started: started.input.value, done: done.input.value, reached: reached.value, left: left.input.value,
        hours: hours.input.value, minutes: minutes.input.value, meters: meters.read(), readings: measured.read(),
        parts: parts.read(), findings: findings.read(), by: by.value, doneBy: doneBy.value, notes: notes.value,
        except: except ? except.input.value : ""
      };
    }

    /* The first field in which something is amiss. */
    function wrong(now) {
      [started, done, hours, minutes].forEach(function (one) { one.tell(""); });
      if (!entry.isDay(now.started)) { started.tell(say("no-day")); return started; }
      if (!now.open && !entry.isDay(now.done)) { done.tell(say("no-day")); return done; }
      if (!now.open && now.done < now.started) { done.tell(say("done-first")); return done; }
      var odd = [hours, minutes].filter(function (one) { return !/^\d{0,3}$/.test(one.input.value.trim()); })[0];
      if (odd) { odd.tell(say("no-number")); return odd; }
      return meters.bad() || measured.bad() || parts.bad();
    }

    form.addEventListener("change", ends);
    form.addEventListener("input", function () { garboard.remember(DRAFT, JSON.stringify(read())); });
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      var now = read();
      var bad = wrong(now);
      amiss.textContent = bad ? say("amiss") : "";
      if (bad) return void bad.input.focus();
      var chosen = gears ? gears.chosen() : [];
      var named = state.guide && chosen.length ? chosen.map(function (one) { return state.guide + "/" + one; }) : state.jobs;
      now.jobs = named;
      now.state = (state.state || 0) + 1;
      var keys = { jobs: named, work: named.length ? [] : [now.title] };
      if (now.open) keys.started = new entry.Figure(now.started);
      else if (now.started === now.done) keys.date = new entry.Figure(now.done);
      else { keys.started = new entry.Figure(now.started); keys.done = new entry.Figure(now.done); }
      if (now.open) {
        keys.reached = now.reached;
        keys.left = lines(now.left);
      }
      keys.except = lines(now.except);
      keys.meters = meters.keys();
      keys.time = new entry.Figure(entry.duration(60 * +now.hours + +now.minutes));
      keys.parts = parts.keys();
      keys.readings = measured.keys();
      keys.findings = findings.keys();
      if (!now.open) lines(now.left).forEach(function (what) {
        if (!keys.findings.some(function (one) { return one.what === what; })) keys.findings.unshift({ what: what, grade: "act" });
      });
      keys["done-by"] = now.doneBy;
      keys.by = now.by;
      var record = {
        id: now.id, day: now.open ? now.started : now.done, title: now.title, job: (named[0] || now.title).split("/")[0],
        state: now.state, text: entry.text(now.id, now.state, keys, now.notes), savedAt: new Date().toISOString(), form: now
      };
      var stays = kept.keep(record);
      if (stays) {
        garboard.remember(DRAFT, null);
        if (garboard.clearWork && state.guide) garboard.attempt(function () { garboard.clearWork(state.guide, state.gear); });
      }
      kept.show(screen, record, stays, function () { fill(screen, now); });
    });
    ends();
  }

  /* The form of a kept record, where it can be opened on this page. */
  function again(screen, record) {
    if (!record.form || record.form.note || !document.getElementById("_job")) return null;
    var sheet = document.getElementById("sheet");
    if (!sheet || sheet.getAttribute("data-guide") !== record.form.guide) return null;
    return function () { fill(screen, record.form); };
  }

  return { open: open };
});
