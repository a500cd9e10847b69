/* What every page gains where scripts run: the light, days counted from the reader's own today, and parts
   that are loaded when needed. A page says everything without; a failure costs a nicety, never the page. */
(function () {
  "use strict";

  var page = document.documentElement;
  var words = window.garboardWords = window.garboardWords || {};
  var book = page.getAttribute("data-book") || "";
  var prefix = "garboard:" + book + ":";
  var own = document.currentScript && document.currentScript.getAttribute("src");
  /* Where the site begins, seen from this page; null where all scripts stand in the page itself. */
  var root = own && /(^|\/)assets\/[^\/]*$/.test(own) ? own.replace(/assets\/[^\/]*$/, "") : null;

  function each(selector, act) {
    document.querySelectorAll(selector).forEach(act);
  }

  function make(kind, text) {
    var tag = document.createElement(kind);
    if (text) tag.textContent = text;
    return tag;
  }

  /* What fails does not take the rest along. */
  function attempt(act) {
    try { act(); } catch (failure) { console.error("garboard:", failure); }
  }

  function say(key, fill) {
    var text = words[key];
    if (text && text.other) text = fill && fill.n === 1 ? text.one : text.other;
    return String(text || "").replace(/\{(\w+)\}/g, function (whole, name) {
      return fill && name in fill ? String(fill[name]) : whole;
    });
  }

  /* What the browser remembers; where it refuses, the page forgets. `remember` tells if it could. */
  function recall(key) {
    try { return localStorage.getItem(prefix + key); } catch (refused) { return null; }
  }
  function remember(key, value) {
    try {
      if (value === null) localStorage.removeItem(prefix + key);
      else localStorage.setItem(prefix + key, value);
      return true;
    } catch (refused) { return false; }
  }

  /* Parts are files of their own. A part tells of itself; what `maker` returns goes to those who need it. */
  var makers = {}, made = {}, waiting = {}, styled = {};

  function settle(name, act) {
    var queue = waiting[name] || [];
    delete waiting[name];
    queue.forEach(act);
  }
  function hand(name, then) {
    if (!(name in made)) made[name] = makers[name](garboard);
    if (then) then(made[name]);
  }
  function part(name, maker) {
    makers[name] = maker;
    settle(name, function (one) { attempt(function () { hand(name, one.then); }); });
  }
  function load(kind, file, ended) {
    var tag = make(kind);
    tag.rel = "stylesheet";
    tag[kind === "link" ? "href" : "src"] = root + "assets/" + file;
    tag.async = false;
    tag.onload = tag.onerror = ended || null;
    document.head.append(tag);
  }
  /* Calls `then` with a part, loaded if it is not there yet; `failed` if it cannot be. */
  function need(name, then, failed) {
    if (makers[name]) return hand(name, then);
    if (root === null) return failed && failed();
    (waiting[name] = waiting[name] || []).push({ then: then, failed: failed });
    if (waiting[name].length > 1) return;
    if (!words.more) load("script", "words-more.js");
    load("script", name + ".js", function () {
      settle(name, function (one) { if (one.failed) one.failed(); });
    });
  }
  /* The style sheet of a part, once; `then` when it is there, or cannot be. */
  function style(name, then) {
    if (root === null || styled[name]) return then && then();
    styled[name] = true;
    load("link", name + ".css", then);
  }

  var garboard = window.garboard = {
    make: make, say: say, recall: recall, remember: remember, each: each, attempt: attempt, dayNumber: dayNumber,
    book: book, root: root, part: part, need: need, style: style,
    made: made, start: work
  };

  function light() {
    var button = document.getElementById("_light");
    if (!button || !words["light-day"]) return;
    var order = ["day", "night", "device"];
    var dark = window.matchMedia ? matchMedia("(prefers-color-scheme: dark)") : {};
    var chosen = recall("light");
    if (order.indexOf(chosen) < 0) chosen = "day";
    function show() {
      page.setAttribute("data-light", chosen === "device" ? (dark.matches ? "night" : "day") : chosen);
      button.textContent = say("light-" + chosen);
    }
    button.addEventListener("click", function () {
      chosen = order[(order.indexOf(chosen) + 1) % 3];
      remember("light", chosen);
      show();
    });
    if (dark.addEventListener) dark.addEventListener("change", show);
    button.hidden = false;
    show();
  }

  /* Days since 1970 of a calendar day; of the reader's own clock where no text is given. */
  function dayNumber(text) {
    var now = new Date();
    var found = /^(\d{4})-(\d\d)-(\d\d)$/.exec(text || "");
    if (text && !found) return NaN;
    return (found ? Date.UTC(+found[1], found[2] - 1, +found[3]) : Date.UTC(now.getFullYear(), now.getMonth(), now.getDate())) / 864e5;
  }

  function days() {
    var published = dayNumber(page.getAttribute("data-published") || "none");
    var today = dayNumber();
    if (!words.today || isNaN(published)) return;
    /* A clock behind the page, date line and all, cannot count: what was printed stands. */
    if (!(today >= published - 1)) return document.getElementById("_main").prepend(make("p", say("clock-behind")));
    function daysText(count) {
      return count ? count > 0 ? say("in", { n: count }) : say("ago", { n: -count }) : say("today");
    }
    each("[data-due]", function (place) {
      var due = dayNumber(place.getAttribute("data-due"));
      if (isNaN(due)) return;
      place.textContent = daysText(due - today);
      if (due >= published && due < today) place.append(" – ", make("strong", say("passed")));
    });
    each("[data-left]", function (place) {
      var left = dayNumber(place.getAttribute("data-left")) - today;
      if (!isNaN(left)) place.textContent = left < 0 ? say("over", { n: -left }) : say("left", { n: left });
    });
    if (today > published) each("[data-since]", function (place) { place.textContent = " (" + daysText(published - today) + ")"; });
  }

  /* The buttons that begin work on a guide; work begun on this device before goes on by itself. */
  function work() {
    var sheet = document.getElementById("sheet");
    if (!sheet || !document.querySelector("#steps .step")) return;
    each(".work", function (button) {
      button.addEventListener("click", function () {
        need("deck", function (deck) { deck.begin(); }, function () { button.textContent = say("part-missing"); });
      });
      button.hidden = false;
    });
    var key = prefix + "work:" + sheet.getAttribute("data-guide");
    var names;
    try { names = Object.keys(localStorage); } catch (refused) { return; }
    names = names.filter(function (name) { return name === key || name.indexOf(key + "/") === 0; });
    if (names.length) need("deck", function (deck) { deck.resume(); });
  }

  /* Timers that run are shown on every page. */
  function timers() {
    if (recall("timers")) need("timers");
    addEventListener("storage", function (change) {
      if (change.key === prefix + "timers" && change.newValue) need("timers");
    });
  }

  /* Kept on the device where browsers allow it; never from a folder. */
  function install() {
    if (isSecureContext && /^http/.test(location.protocol)) need("install");
  }

  [light, days, work, timers, install].forEach(attempt);
})();
