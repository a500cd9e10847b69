/* Records kept on this phone until they are brought home: the list, and the screen that shows one and
   lets it be saved, shared and copied. It says "kept" only of what it has read back. */
garboard.part("kept", function (garboard) {
  "use strict";

  var forms, entry, boat = null;
  var KEY = "records";

  function say(key, fill) { return forms.say(key, fill); }

  /* Every record kept here, oldest first. */
  function all() {
    var found;
    try { found = JSON.parse(garboard.recall(KEY)); } catch (spoiled) { found = null; }
    return Array.isArray(found) ? found.filter(function (one) { return one && typeof one.id === "string" && typeof one.text === "string"; }) : [];
  }

  /* Keeps a record in the place of its former state. False: this browser does not keep it. */
  function keep(record) {
    var list = all().filter(function (one) { return one.id !== record.id; });
    list.push(record);
    garboard.remember(KEY, JSON.stringify(list));
    return all().some(function (one) { return one.id === record.id && one.text === record.text; });
  }

  function drop(id) {
    var list = all().filter(function (one) { return one.id !== id; });
    garboard.remember(KEY, list.length ? JSON.stringify(list) : null);
  }

  /* The log of these pages holds it already. */
  function isHome(record) {
    return !!boat && (boat.records || []).some(function (one) { return one[0] === record.id && one[1] >= (record.state || 1); });
  }

  function fileName(record) { return record.day + "-" + (entry.idOf(record.job || record.title) || "note") + ".md"; }

  function save(record, told) {
    try {
      var url = URL.createObjectURL(new Blob([record.text], { type: "text/markdown;charset=utf-8" }));
      var link = forms.make("a", { href: url, download: fileName(record) });
      document.body.appendChild(link);
      link.click();
      link.remove();
      setTimeout(function () { URL.revokeObjectURL(url); }, 60000);
      /* Whether it was stored, no page can know. */
      told(say("saved-where", { file: fileName(record) }));
    } catch (refused) { told(say("not-saved")); }
  }

  /* As a text file: few phones share files that end in `.md`, and the program takes any name. */
  function shared(record) {
    try {
      var file = new File([record.text], fileName(record).replace(/md$/, "txt"), { type: "text/plain" });
      return navigator.canShare && navigator.canShare({ files: [file] }) ? file : null;
    } catch (refused) { return null; }
  }

  function copy(area, told) {
    function byHand() {
      area.focus();
      area.select();
      var copied = false;
      try { copied = document.execCommand("copy"); } catch (refused) { copied = false; }
      told(say(copied ? "copied" : "copy-by-hand"));
    }
    if (!navigator.clipboard || !navigator.clipboard.writeText) return byHand();
    navigator.clipboard.writeText(area.value).then(function () { told(say("copied")); }, byHand);
  }

  /* The screen of one record. `change`: opens the form again; `kept`: whether it has been kept. */
  function show(screen, record, kept, change) {
    screen.fresh(record.title);
    var body = screen.body;
    var make = forms.make;
    body.appendChild(make("p.keptline", { role: "status" }, make("strong", {}, kept ? say("kept") : say("not-kept"))));
    if (!kept) body.appendChild(make("p", {}, say("not-kept-how")));
    var area = make("textarea.entrytext", { readonly: true, rows: Math.min(record.text.split("\n").length + 1, 24), "aria-label": say("text"), spellcheck: "false" });
    area.value = record.text;
    var told = make("p.told", { role: "status" });
    var tell = function (words) { told.textContent = words; };
    var acts = make("p.acts", {}, forms.button(say("save"), function () { save(record, tell); }, true));
    var file = shared(record);
    if (file) acts.appendChild(forms.button(say("share"), function () {
      navigator.share({ files: [file], title: record.title }).then(function () { tell(say("shared")); }, function (refused) {
        if (refused && refused.name !== "AbortError") tell(say("not-shared"));
      });
    }, true));
    acts.appendChild(forms.button(say("copy"), function () { copy(area, tell); }, true));
    body.appendChild(acts);
    body.appendChild(told);
    body.appendChild(area);
    body.appendChild(home(fileName(record)));
    var last = make("p.acts", {});
    if (change) last.appendChild(forms.button(say("change"), change));
    last.appendChild(forms.button(say("close"), screen.close));
    body.appendChild(last);
  }

  /* How a record gets into the log. */
  function home(file) {
    return forms.make("p.aside", {}, say("home") + " ", forms.make("code", { dir: "ltr" }, "garboard enter --from " + file));
  }

  /* The list of what is kept; `open(record)` shows one. Nothing where there is none. */
  function list(open) {
    var records = all();
    if (!records.length) return null;
    var make = forms.make;
    var box = make("section.formpart.keptlist", {}, make("h2", {}, say("kept-list", { n: records.length })));
    var lines = make("ul");
    records.slice().reverse().forEach(function (record) {
      var sure = false;
      var off = forms.button(say("drop"), function () {
        if (!sure && !isHome(record)) {
          sure = true;
          off.textContent = say("drop-sure");
          return;
        }
        drop(record.id);
        var fresh = list(open);
        if (fresh) box.replaceWith(fresh);
        else box.remove();
      });
      off.setAttribute("aria-label", say("drop") + ": " + record.title);
      var where = isHome(record) ? say("is-home") : say("not-home");
      lines.appendChild(make("li", {},
        make("p", {}, make("strong", { dir: "auto" }, record.title), make("span.aside", {}, " " + forms.dayText(record.day))),
        make("p.aside", {}, where),
        make("p.acts", {}, forms.button(say("show"), function () { open(record); }), off)));
    });
    box.appendChild(lines);
    box.appendChild(home("FILE"));
    return box;
  }

  /* What the forms are made with, once all of it is there; what cannot be loaded is done without. */
  function ready(then) {
    garboard.style("record", function () {
      garboard.need("entry", function (part) {
        entry = part;
        garboard.need("forms", function (found) {
          forms = found;
          var go = function (data) {
            boat = data || { meters: [], systems: [], gear: [], stores: [], guides: [], records: [], short: true };
            then(entry, forms, boat);
          };
          garboard.need("boat", go, function () { go(null); });
        });
      });
    });
  }

  /* What both forms are made with. */
  function outfit(then) {
    ready(function () {
      garboard.need("fields", function (make) {
        var kit = { entry: entry, forms: forms, boat: boat };
        kit.fields = make(kit);
        then(kit);
      });
    });
  }

  return { all: all, keep: keep, drop: drop, show: show, list: list, ready: ready, outfit: outfit };
});
