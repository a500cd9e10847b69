/* What every page gains where scripts run: the light, days counted from the reader's own today, and the
   loader of the parts that only some pages need. A page says everything without this file; a failure
   here costs a nicety, never the page. */
(function () {
  "use strict";

  var page = document.documentElement;
  var words = window.garboardWords = window.garboardWords || {};
  var book = page.getAttribute("data-book") || "";
  var prefix = "garboard:" + book + ":";
  var script = document.currentScript && document.currentScript.getAttribute("src");
  /* Where the site begins, seen from this page; null where all scripts stand in the page itself. */
  var root = script && /(^|\/)assets\/[^\/]*$/.test(script) ? script.replace(/assets\/[^\/]*$/, "") : null;

  function each(selector, act) {
    Array.prototype.forEach.call(document.querySelectorAll(selector), act);
  }

  /* One part of the page at a time: what fails does not take the others along. */
  function attempt(part) {
    try { part(); } catch (failure) { if (window.console) console.error("garboard:", failure); }
  }

  function say(key, fill) {
    var text = words[key];
    if (text && typeof text === "object") {
      var n = fill && fill.n;
      var form = window.Intl && Intl.PluralRules ? new Intl.PluralRules(page.lang || "en").select(n) : (n === 1 ? "one" : "other");
      text = text[form] || text.other;
    }
    return String(text || "").replace(/\{(\w+)\}/g, function (whole, name) {
      return fill && name in fill ? String(fill[name]) : whole;
    });
  }

  /* What the browser remembers; where it refuses, the page forgets. */
  function recall(key) {
    try { return localStorage.getItem(prefix + key); } catch (refused) { return null; }
  }
  function remember(key, value) {
    try {
      if (value === null) localStorage.removeItem(prefix + key);
      else localStorage.setItem(prefix + key, value);
    } catch (refused) { /* kept until the page is left */ }
  }

  /* --- Parts: files of their own, fetched when first needed ------------------------------------- */

  var makers = {};
  var made = {};
  var waiting = {};

  /* A part tells of itself: what `make` returns is what those get who need it. */
  function part(name, make) {
    makers[name] = make;
    var queue = waiting[name] || [];
    delete waiting[name];
    queue.forEach(function (one) { attempt(function () { hand(name, one); }); });
  }

  function hand(name, one) {
    if (!(name in made)) made[name] = makers[name](garboard);
    if (one.then) one.then(made[name]);
  }

  function load(file, failed) {
    var tag = document.createElement("script");
    tag.src = root + "assets/" + file;
    tag.async = false;
    tag.onload = tag.onerror = failed || null;
    document.head.appendChild(tag);
  }

  /* Calls `then` with the part `name`, which is loaded if it is not there yet; `failed` if it cannot be. */
  function need(name, then, failed) {
    var one = { then: then, failed: failed };
    if (makers[name]) return hand(name, one);
    if (root === null) return failed && failed();
    if (waiting[name]) return void waiting[name].push(one);
    waiting[name] = [one];
    if (!words.more) load("words-more.js");
    /* A part that has told of itself by now has left nobody waiting. */
    load(name + ".js", function () {
      var queue = waiting[name] || [];
      delete waiting[name];
      queue.forEach(function (one) { if (one.failed) one.failed(); });
    });
  }

  /* The style sheet of a part, once; `then` when it is there, or cannot be. */
  function style(name, then) {
    var id = "_style-" + name;
    if (root === null || document.getElementById(id)) return then && then();
    var tag = document.createElement("link");
    tag.id = id;
    tag.rel = "stylesheet";
    tag.href = root + "assets/" + name + ".css";
    tag.onload = tag.onerror = then || null;
    document.head.appendChild(tag);
  }

  var garboard = window.garboard = {
    say: say, recall: recall, remember: remember, each: each, attempt: attempt, dayNumber: dayNumber,
    book: book, root: root, part: part, need: need, style: style
  };

  function light() {
    var button = document.getElementById("_light");
    if (!button || !words["light-day"]) return;
    var order = ["day", "night", "device"];
    var dark = window.matchMedia ? matchMedia("(prefers-color-scheme: dark)") : { matches: false };
    var chosen = recall("light");
    if (order.indexOf(chosen) < 0) chosen = "day";
    function show() {
      page.setAttribute("data-light", chosen === "device" ? (dark.matches ? "night" : "day") : chosen);
      button.textContent = say("light-" + chosen);
    }
    button.addEventListener("click", function () {
      chosen = order[(order.indexOf(chosen) + 1) % order.length];
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

  function daysText(days) {
    if (days === 0) return say("today");
    return days > 0 ? say("in", { n: days }) : say("ago", { n: -days });
  }

  function days() {
    var published = dayNumber(page.getAttribute("data-published") || "none");
    var today = dayNumber();
    /* A clock that is behind the page cannot count: what was printed stands. */
    if (!words.today || !(today >= published)) return;
    each("[data-due]", function (place) {
      var due = dayNumber(place.getAttribute("data-due"));
      if (isNaN(due)) return;
      place.textContent = daysText(due - today);
      if (due >= published && due < today) {
        var passed = document.createElement("strong");
        passed.textContent = say("passed");
        place.appendChild(document.createTextNode(" – "));
        place.appendChild(passed);
      }
    });
    each("[data-left]", function (place) {
      var left = dayNumber(place.getAttribute("data-left")) - today;
      if (!isNaN(left)) place.textContent = left < 0 ? say("over", { n: -left }) : say("left", { n: left });
    });
    if (today > published) {
      each("[data-since]", function (place) {
        place.textContent = " (" + daysText(dayNumber(place.getAttribute("data-since")) - today) + ")";
      });
    }
  }

  function ticks() {
    var sheet = document.getElementById("sheet");
    var steps = document.getElementById("steps");
    if (!sheet || !steps || !words.tick) return;
    var key = "ticks:" + sheet.getAttribute("data-guide");
    var ticked = {};
    try { (JSON.parse(recall(key)) || []).forEach(function (id) { ticked[id] = true; }); } catch (spoiled) { ticked = {}; }
    var boxes = [];

    var bar = document.createElement("p");
    bar.className = "tickbar";
    var count = document.createElement("span");
    count.setAttribute("role", "status");
    var clear = document.createElement("button");
    clear.type = "button";
    clear.textContent = say("clear-ticks");
    bar.appendChild(count);
    bar.appendChild(clear);

    function show() {
      var done = 0;
      boxes.forEach(function (box) {
        box.checked = ticked[box.value] === true;
        if (box.checked) done += 1;
        box.closest(".step").classList.toggle("done", box.checked);
      });
      count.textContent = say("ticked", { n: done, all: boxes.length });
      clear.hidden = done === 0;
    }
    function keep() {
      var ids = boxes.filter(function (box) { return ticked[box.value]; }).map(function (box) { return box.value; });
      remember(key, ids.length ? JSON.stringify(ids) : null);
      show();
    }

    each("#steps .step", function (step) {
      var box = document.createElement("input");
      box.type = "checkbox";
      box.value = step.id;
      box.setAttribute("aria-label", say("tick", { n: step.getAttribute("value") }));
      box.addEventListener("change", function () {
        ticked[box.value] = box.checked;
        keep();
      });
      var place = document.createElement("label");
      place.className = "tick";
      place.appendChild(box);
      step.insertBefore(place, step.children[1] || null);
      boxes.push(box);
    });
    if (!boxes.length) return;
    clear.addEventListener("click", function () {
      ticked = {};
      keep();
    });
    steps.insertBefore(bar, steps.children[1] || null);
    show();
  }

  function clock(seconds) {
    var whole = Math.max(0, Math.ceil(seconds));
    var text = Math.floor(whole % 3600 / 60) + ":" + ("0" + whole % 60).slice(-2);
    return whole < 3600 ? text : Math.floor(whole / 3600) + ":" + ("0" + text).slice(-5);
  }

  /* A wait or a run that the page can time. It goes on while the page is away. */
  function timers() {
    var sheet = document.getElementById("sheet");
    if (!sheet || !words.timer) return;
    each("#steps [data-minutes]", function (mark, at) {
      var minutes = parseFloat(mark.getAttribute("data-minutes"));
      if (!(minutes > 0 && minutes <= 6000)) return;
      var step = mark.closest(".step");
      var key = "timer:" + sheet.getAttribute("data-guide") + ":" + (step ? step.id : "") + ":" + at;
      var end = parseFloat(recall(key)) || 0;
      var ticking = 0;
      var button = document.createElement("button");
      button.type = "button";
      button.className = "timer";
      var told = document.createElement("span");
      told.className = "timeleft figure";
      var over = document.createElement("strong");
      over.setAttribute("role", "status");

      function show() {
        var left = (end - Date.now()) / 1000;
        var out = end > 0 && left <= 0;
        told.textContent = end && !out ? say("timer-left", { time: clock(left) }) : "";
        if (out && ticking && navigator.vibrate) navigator.vibrate([400, 200, 400]);
        var message = out ? say("timer-over") : "";
        if (over.textContent !== message) over.textContent = message;
        button.textContent = end ? say("timer-stop") : say("timer", { n: minutes });
        if (!end || out) {
          clearInterval(ticking);
          ticking = 0;
        } else if (!ticking) {
          ticking = setInterval(show, 1000);
        }
      }
      button.addEventListener("click", function () {
        end = end ? 0 : Date.now() + minutes * 60000;
        remember(key, end ? String(end) : null);
        show();
      });
      mark.appendChild(document.createTextNode(" "));
      [button, told, over].forEach(function (part) { mark.appendChild(part); });
      show();
    });
  }

  [light, days, ticks, timers].forEach(attempt);
})();
