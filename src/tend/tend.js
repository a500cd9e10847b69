/* Lets a page follow the book: asks which version of the site stands, loads the page anew where it
   changed, and shows what is wrong with the book. Added by the server; no file of the site holds it. */
(function () {
  "use strict";

  var mine = document.currentScript.getAttribute("data-version");
  var KEY = "garboard:tend:" + location.pathname;
  var EVERY = 700;
  var lost = "";
  var silent = 0;
  var shown = "";
  var asking = false;

  /* --- The place on the page ------------------------------------------------------------------ */

  /* The last thing with a name above the top of the screen, and how far above: words that are added before it
     then move nothing. */
  function keepPlace() {
    var kept = { y: scrollY };
    Array.prototype.forEach.call(document.querySelectorAll("main [id]"), function (one) {
      var box = one.getBoundingClientRect();
      if (box.height && box.top <= 1) { kept.id = one.id; kept.above = box.top; }
    });
    try { sessionStorage.setItem(KEY, JSON.stringify(kept)); } catch (refused) { /* the browser does what it can */ }
  }

  function findPlace(kept) {
    var one = kept.id && document.getElementById(kept.id);
    var y = one && one.getBoundingClientRect().height ? scrollY + one.getBoundingClientRect().top - kept.above : kept.y;
    scrollTo({ top: y, behavior: "instant" });
  }

  var kept = null;
  try {
    kept = JSON.parse(sessionStorage.getItem(KEY));
    sessionStorage.removeItem(KEY);
  } catch (refused) { /* from the top, then */ }
  if (kept) {
    history.scrollRestoration = "manual";
    findPlace(kept);
    addEventListener("load", function () {
      findPlace(kept);
      history.scrollRestoration = "auto";
    });
  }

  /* Nobody loses what he is writing. */
  function busy() {
    var at = document.activeElement;
    var writing = at && (/^(TEXTAREA|SELECT)$/.test(at.tagName) || (at.tagName === "INPUT" && !/^(checkbox|radio|button)$/.test(at.type)));
    return document.querySelector("dialog[open]") || (writing && at.value);
  }

  /* --- What is wrong ---------------------------------------------------------------------------- */

  function element(name, text, into) {
    var made = document.createElement(name);
    made.textContent = text;
    return into.appendChild(made);
  }

  /* What stands in backticks is what was written in the book, or is to be typed. */
  function say(text, into) {
    text.split("`").forEach(function (part, n, all) {
      if (n % 2 && n < all.length - 1) element("code", part, into);
      else into.appendChild(document.createTextNode((n % 2 ? "`" : "") + part));
    });
  }

  function show(notice) {
    var now = JSON.stringify([notice.title, notice.problems, notice.more]);
    if (now === shown) return;
    shown = now;
    var bar = document.getElementById("_tend");
    if (bar) bar.remove();
    if (!notice.title) return;
    bar = document.createElement("aside");
    bar.id = "_tend";
    bar.setAttribute("role", "alert");
    var style = element("style", "#_tend{position:sticky;top:0;z-index:9;max-height:50vh;overflow:auto;background:var(--paper,#fff);" +
      "color:var(--ink,#000);border-bottom:.25rem solid;padding:.75rem 0;overflow-wrap:anywhere}#_tend p{margin:.25rem 0}" +
      "#_tend ul{margin:.5rem 0;padding:0;list-style:none}#_tend li{margin:.25rem 0}@media print{#_tend{display:none}}", bar);
    style.media = "all";
    say(notice.title, element("strong", "", element("p", "", bar)));
    var list = bar.appendChild(document.createElement("ul"));
    (notice.problems || []).forEach(function (problem) {
      var line = element("li", "", list);
      if (problem.place) { element("code", problem.place, line); line.appendChild(document.createTextNode(" ")); }
      say(problem.message, line);
      if (problem.remedy) { line.appendChild(document.createElement("br")); say(problem.remedy, line); }
    });
    if (!list.firstChild) list.remove();
    if (notice.more) element("p", notice.more, bar);
    document.body.insertBefore(bar, document.body.firstChild);
  }

  /* --- Asking ------------------------------------------------------------------------------------ */

  function hear(notice) {
    silent = 0;
    lost = notice.lost;
    if (notice.version !== mine && !busy()) {
      keepPlace();
      history.scrollRestoration = "manual";
      location.reload();
      return;
    }
    show(notice);
  }

  function ask() {
    /* A page that nobody sees costs nothing. */
    if (asking || document.hidden) return;
    asking = true;
    fetch("/_tend", { cache: "no-store" }).then(function (answer) { return answer.json(); }).then(hear, function () {
      silent += 1;
      if (silent > 2 && lost) show({ title: lost });
    }).then(function () {
      asking = false;
      setTimeout(ask, EVERY);
    });
  }

  document.addEventListener("visibilitychange", ask);
  ask();
})();
