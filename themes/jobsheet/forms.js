/* Forms that take over the screen: one column, large targets, and fields that say at once what is amiss. */
garboard.part("forms", function (garboard) {
  "use strict";

  var say = function (key, fill) { return garboard.say("record." + key, fill); };
  var count = 0;

  /* `make("p.aside", {hidden: true}, "text", child …)`. */
  function make(name, attributes) {
    var parts = name.split(".");
    var node = document.createElement(parts[0]);
    if (parts.length > 1) node.className = parts.slice(1).join(" ");
    Object.keys(attributes || {}).forEach(function (key) {
      var value = attributes[key];
      if (typeof value === "function") node.addEventListener(key, value);
      else if (value === true) node.setAttribute(key, "");
      else if (value !== false && value !== undefined && value !== null) node.setAttribute(key, value);
    });
    for (var at = 2; at < arguments.length; at += 1) {
      var child = arguments[at];
      if (child !== null && child !== undefined) node.appendChild(typeof child === "object" ? child : document.createTextNode(child));
    }
    return node;
  }

  function id(name) { return "_" + name + "-" + (count += 1); }

  function button(text, act, primary) {
    return make(primary ? "button.primary" : "button", { type: "button", click: act }, text);
  }

  /* A screen over the page. `done` is called when it is left. */
  function screen(title, done) {
    var heading = make("h1", { id: id("form"), tabindex: "-1", dir: "auto" }, title);
    var body = make("div.formbody");
    var box = make("dialog.form", { "aria-labelledby": heading.id });
    var back = button(say("back"), function () { close(); });
    box.appendChild(make("div.formhead", {}, heading, back));
    box.appendChild(body);
    document.body.appendChild(box);
    var from = document.activeElement;
    function close() {
      if (!box.isConnected) return;
      if (box.open && box.close) box.close();
      box.remove();
      if (from && from.focus) from.focus();
      if (done) done();
    }
    box.addEventListener("cancel", function (event) { event.preventDefault(); close(); });
    if (box.showModal) box.showModal();
    else box.setAttribute("open", "");
    heading.focus();
    return { body: body, close: close, fresh: function (name) {
      heading.textContent = name;
      body.textContent = "";
      box.scrollTop = 0;
      heading.focus();
    } };
  }

  /* Fields under a heading of their own. */
  function section(title, note) {
    var heading = make("legend", {}, title);
    var box = make("fieldset.formpart", {}, heading);
    if (note) box.appendChild(make("p.aside", {}, note));
    return box;
  }

  /* A label with its field; `tell(text)` says beneath it what is amiss, `tell("")` nothing. */
  function field(label, input, aside) {
    input.id = input.id || id("field");
    var message = make("span.amiss", { id: input.id + "-amiss", role: "status" });
    var hint = aside ? make("span.aside", { id: input.id + "-hint" }, aside) : null;
    input.setAttribute("aria-describedby", (hint ? hint.id + " " : "") + message.id);
    var unit = input.getAttribute("data-unit");
    var pair = unit ? make("span.withunit", {}, input, make("span", { "aria-hidden": "true" }, unit)) : input;
    var box = make("p.formfield", {}, make("label", { for: input.id, dir: "auto" }, label), hint, pair, message);
    box.input = input;
    box.tell = function (text) {
      if (message.textContent !== text) message.textContent = text;
      if (text) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
    };
    return box;
  }

  function text(value, attributes) {
    var input = make("input", Object.assign({ type: "text", autocomplete: "off", dir: "auto" }, attributes));
    input.value = value || "";
    return input;
  }

  /* Digits with a point or a comma, from the keys of a telephone. */
  function figure(value, unit) {
    return text(value, { inputmode: "decimal", "data-unit": unit, class: "short" });
  }

  function area(value, rows) {
    var input = make("textarea", { rows: rows || 4, dir: "auto" });
    input.value = value || "";
    return input;
  }

  function date(value) {
    var input = make("input.short", { type: "date" });
    input.value = value || "";
    return input;
  }

  function select(value, pairs) {
    var input = make("select");
    pairs.forEach(function (pair) { input.appendChild(make("option", { value: pair[0] }, pair[1])); });
    input.value = value;
    return input;
  }

  /* A box to tick or one of several, with the whole line as its target. */
  function choice(type, name, value, label, checked) {
    var input = make("input", { type: type, name: name, value: value, id: id("choice") });
    input.checked = !!checked;
    var box = make("label.choice", { for: input.id }, input, make("span", { dir: "auto" }, label));
    box.input = input;
    return box;
  }

  /* A day in the words of the page. */
  function dayText(iso) {
    var parts = /^(\d{4})-(\d\d)(-(\d\d))?$/.exec(iso);
    if (!parts) return iso;
    /* A month where no more is known. */
    var shown = { month: "long", year: "numeric", timeZone: "UTC" };
    if (parts[4]) shown.day = "numeric";
    /* As the pages write a day: in English too the day comes first. */
    var language = document.documentElement.lang;
    try {
      return new Date(Date.UTC(+parts[1], parts[2] - 1, +(parts[4] || 1))).toLocaleDateString(language === "en" ? "en-GB" : language, shown);
    } catch (refused) { return iso; }
  }

  return {
    say: say, make: make, id: id, button: button, screen: screen, section: section, field: field, text: text, figure: figure,
    area: area, date: date, select: select, choice: choice, dayText: dayText
  };
});
