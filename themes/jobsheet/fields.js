/* The parts that the record of a job and the quick note have in common: meters, things used, findings. */
garboard.part("fields", function () {
  "use strict";

  /* `kit`: what kept.ready hands over, {entry, forms, boat}. */
  return function (kit) {
    var entry = kit.entry, forms = kit.forms, boat = kit.boat, make = forms.make, say = forms.say;

    /* A field a meter, with what it last showed. `day()`: the day it counts for. */
    function meters(values, day) {
      var box = forms.section(say("meters"));
      var rows = boat.meters.map(function (meter) {
        var last = meter.last;
        var aside = last ? lastText(last, meter.unit) : say("never-read");
        /* What is only known about is held against nothing. */
        var exact = last && !last.about && !last.around;
        var row = forms.field(meter.title, forms.figure(values[meter.id], meter.unit), aside);
        row.judge = function () {
          var typed = row.input.value.trim();
          var value = entry.number(typed);
          var later = last && day() < last.day;
          row.bad = typed !== "" && (value === null || value.charAt(0) === "-");
          if (row.bad) row.tell(say("no-number"));
          else if (typed && exact && !later && +value < +last.value) row.tell(say("lower"));
          else if (typed && exact && later && +value > +last.value) row.tell(say("higher"));
          else row.tell("");
        };
        row.input.addEventListener("input", row.judge);
        row.meter = meter;
        box.appendChild(row);
        return row;
      });
      return {
        box: rows.length ? box : null,
        read: function () { return collect(rows, function (row) { return [row.meter.id, row.input.value]; }); },
        bad: function () { return firstBad(rows); },
        keys: function () {
          return collect(rows, function (row) { return [row.meter.id, new entry.Figure(entry.number(row.input.value))]; });
        }
      };
    }

    function lastText(last, unit) {
      var value = last.value + " " + unit;
      return say(last.around ? "last-about" : "last", { value: last.about ? say("about", { amount: value }) : value, day: forms.dayText(last.day) });
    }

    /* The values of the rows in which something stands. */
    function collect(rows, pair) {
      var found = {};
      rows.forEach(function (row) {
        if (row.input.value.trim() === "") return;
        var one = pair(row);
        found[one[0]] = one[1];
      });
      return found;
    }

    function firstBad(rows) {
      rows.forEach(function (row) { if (row.judge) row.judge(); });
      return rows.filter(function (row) { return row.bad; })[0] || null;
    }

    /* What was used: `offered` are the parts of the guide, `rows` what is filled in already. */
    function parts(title, offered, rows, note) {
      var box = forms.section(title, note);
      var list = make("div");
      var lines = [];
      var known = forms.id("stores");
      box.appendChild(make("datalist", { id: known }));
      boat.stores.forEach(function (store) { box.lastChild.appendChild(make("option", { value: store.title })); });
      box.appendChild(list);

      function judge(line) {
        var name = line.name ? line.name.value : line.part.title;
        var typed = line.qty.input.value.trim();
        var store = storeOf(line);
        var wanted = line.tick ? line.tick.input.checked : entry.line(name) !== "";
        line.bad = wanted && typed !== "" && entry.amount(typed, store && store.unit) === null;
        line.qty.tell(line.bad ? say("no-amount") : "");
        line.wanted = wanted;
      }
      function storeOf(line) {
        var name = entry.line(line.name ? line.name.value : line.part.item);
        return boat.stores.filter(function (store) { return store.id === name || store.title === name; })[0] || null;
      }
      function add(line) {
        line.qty.input.addEventListener("input", function () {
          if (line.tick && line.qty.input.value !== line.part.qty) line.tick.input.checked = true;
          judge(line);
        });
        line.input = line.qty.input;
        lines.push(line);
        list.appendChild(line.box);
      }
      function free(row) {
        var name = forms.text(row && row.item, { list: known });
        var line = { name: name, qty: forms.field(say("qty"), forms.text(row && row.qty, { class: "short" })) };
        line.box = make("div.pair", {}, forms.field(say("item"), name), line.qty);
        add(line);
        return name;
      }
      offered.forEach(function (part) {
        var was = rows.filter(function (row) { return row.offered === part.item; })[0];
        var label = part.title + (part.worn ? " (" + say("if-worn") + ")" : "");
        var line = { part: part, tick: forms.choice("checkbox", "part", part.item, label, was) };
        line.qty = forms.field(say("qty-of", { item: part.title }), forms.text(was ? was.qty : part.qty, { class: "short" }));
        line.box = make("div.pair.offered", {}, line.tick, line.qty);
        line.tick.input.addEventListener("change", function () { judge(line); });
        add(line);
      });
      rows.filter(function (row) { return !row.offered; }).forEach(free);
      if (!offered.length && !lines.length) free();
      box.appendChild(forms.button(say("another-item"), function () { free().focus(); }));
      return {
        box: box,
        read: function () {
          lines.forEach(judge);
          return lines.filter(function (line) { return line.wanted; }).map(function (line) {
            return { offered: line.part ? line.part.item : "", item: line.name ? line.name.value : line.part.item, qty: line.qty.input.value };
          });
        },
        bad: function () {
          lines.forEach(judge);
          return lines.filter(function (line) { return line.bad; })[0] || null;
        },
        keys: function () {
          lines.forEach(judge);
          return lines.filter(function (line) { return line.wanted; }).map(function (line) {
            var store = storeOf(line);
            var item = store ? store.id : entry.line(line.name ? line.name.value : line.part.item);
            var amount = entry.amount(line.qty.input.value, store && store.unit);
            return amount === null ? { item: item } : { item: item, qty: new entry.Figure(amount) };
          });
        },
        titles: function () {
          lines.forEach(judge);
          return lines.filter(function (line) { return line.wanted; }).map(function (line) {
            return entry.line(line.name ? line.name.value : line.part.title);
          });
        }
      };
    }

    /* What was seen, each with its grade. */
    function findings(rows) {
      var box = forms.section(say("findings"));
      var list = make("div");
      var lines = [];
      box.appendChild(list);
      function add(row) {
        var what = forms.text(row && row.what);
        var grade = forms.select(row && row.grade || "watch", ["act", "watch", "good"].map(function (one) { return [one, say("grade-" + one)]; }));
        lines.push({ what: what, grade: grade });
        list.appendChild(make("div.formrow", {}, forms.field(say("found"), what), forms.field(say("grade"), grade)));
        return what;
      }
      (rows.length ? rows : [null]).forEach(add);
      box.appendChild(forms.button(say("another-finding"), function () { add().focus(); }));
      function read() {
        return lines.map(function (line) { return { what: entry.line(line.what.value), grade: line.grade.value }; }).filter(function (one) { return one.what; });
      }
      return { box: box, read: read, keys: read };
    }

    return { meters: meters, parts: parts, findings: findings, collect: collect, firstBad: firstBad };
  };
});
