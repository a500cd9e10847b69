/* The pocket file: takes all guides out of the document and shows one at a time, under the ids it has on
   a page of its own, so that the working mode and the records find what they look for. Last of all scripts. */
(function () {
  "use strict";

  var garboard = window.garboard, page = document.documentElement;
  var main = document.getElementById("_main"), home = document.getElementById("_home"), all = document.getElementById("_all");
  if (!garboard || !main || !home || !all) return;
  var title = document.title, running = document.getElementById("_running"), runs = running.textContent;
  var sheets = Object.create(null), now = null, started = false, homeward = 0, recount = function () {};
  /* Attributes that name ids. */
  var NAMES = ["id", "for", "headers", "list", "aria-labelledby", "aria-describedby", "aria-controls", "aria-owns", "aria-details"];
  /* What is made for the guide that is shown. */
  var OWN = ["deck", "work", "ask", "marks"];

  Array.from(all.children).forEach(function (sheet) { sheets[sheet.id] = sheet; });
  all.remove();
  page.classList.remove("pocketing");

  /* --- Where nothing can be stored, work and timers are remembered until the file is closed ------------- */

  var memory = Object.create(null), recall = garboard.recall, remember = garboard.remember;
  var passing = function (key) { return /^(work:|timers$)/.test(key); };
  garboard.remember = function (key, value) {
    var kept = remember(key, value) && recall(key) === (value === null ? null : String(value));
    if (passing(key)) {
      if (kept || value === null) delete memory[key];
      else memory[key] = String(value);
    }
    return kept;
  };
  garboard.recall = function (key) { return key in memory ? memory[key] : recall(key); };

  /* --- Showing ------------------------------------------------------------------------------------------- */

  /* A copy of a guide, under the ids it has by itself. */
  function copyOf(id) {
    var copy = sheets[id].cloneNode(true), front = id + ".";
    copy.removeAttribute("id");
    var bare = function (name) { return name.indexOf(front) === 0 ? name.slice(front.length) : name; };
    NAMES.forEach(function (key) {
      copy.querySelectorAll("[" + key + "]").forEach(function (one) {
        one.setAttribute(key, one.getAttribute(key).split(" ").map(bare).join(" "));
      });
    });
    copy.querySelectorAll("[href^='#']").forEach(function (one) {
      var to = one.getAttribute("href").slice(1);
      /* A whole guide: with a dot, since a place of this one may be called the same. */
      one.setAttribute("href", "#" + (to in sheets ? to + "." : bare(to)));
    });
    ["fill", "stroke", "mask", "clip-path", "filter", "marker-end", "marker-start"].forEach(function (key) {
      copy.querySelectorAll("[" + key + "^='url(#']").forEach(function (one) {
        one.setAttribute(key, "url(#" + bare(one.getAttribute(key).slice(5)));
      });
    });
    return copy;
  }

  /* The guide that is shown is left as a page is: what was remembered of it is remembered. */
  function leave() {
    document.querySelectorAll("dialog.form").forEach(function (form) { form.dispatchEvent(new Event("cancel", { cancelable: true })); });
    if (garboard.made.deck) garboard.made.deck.leave();
    OWN.forEach(function (part) { delete garboard.made[part]; });
    document.querySelectorAll("#_main > .carried").forEach(function (one) { one.remove(); });
    if (now === null) homeward = scrollY;
  }

  function show(id) {
    if (started && id === now) return;
    if (started) leave();
    now = id;
    garboard.place = id === null ? "" : id + ".";
    if (id === null) {
      main.append(home);
      garboard.attempt(recount);
    } else home.remove();
    document.body.className = id === null ? "page-guides" : "page-guide";
    if (id !== null) {
      main.append(copyOf(id));
      garboard.attempt(garboard.start);
      if (Object.keys(memory).some(function (key) { return (key + "/").indexOf("work:" + id + "/") === 0; })) {
        garboard.need("deck", function (deck) { deck.resume(); });
      }
    }
    var name = id === null ? runs : main.querySelector(".carried h1").textContent;
    running.textContent = name;
    document.title = id === null ? title : title.replace(runs, function () { return name; });
    if (id === null) garboard.need("inhand", function (inhand) {
      inhand.show(home.firstElementChild, function (guide) { return "#" + guide; });
    });
    if (garboard.made.timers) garboard.made.timers.place();
    if (!started) return;
    main.focus({ preventScroll: true });
    scrollTo({ top: id === null ? homeward : 0, behavior: "instant" });
  }

  /* --- Addresses: `#guide`, `#guide.place`, and `#place` of the guide that is shown ----------------------- */

  function decoded(text) {
    try { return decodeURIComponent(text); } catch (spoiled) { return text; }
  }

  function go() {
    var hash = decoded(location.hash.slice(1)), dot = hash.indexOf(".");
    var guide = dot < 0 ? hash : hash.slice(0, dot), place = dot < 0 ? "" : hash.slice(dot + 1);
    /* A search is part of the contents. */
    if (!hash || hash === "_home" || hash.indexOf("q=") === 0) return show(null);
    if (dot < 0 && started && document.getElementById(hash)) {
      /* So that the address leads here again, after a reload as well. */
      if (now !== null) try { history.replaceState(history.state, "", "#" + now + "." + hash); } catch (refused) { /* it leads here by itself */ }
      return;
    }
    if (!(guide in sheets)) {
      show(null);
      if (hash.charAt(0) !== "_") document.getElementById("_told").textContent = garboard.say("pocket.missing", { id: guide });
      return;
    }
    var again = started && guide === now;
    show(guide);
    if (again && !place) scrollTo({ top: 0, behavior: "instant" });
    /* A guide at work goes to its steps by itself. */
    var target = place && !document.body.classList.contains("working") && document.getElementById(place);
    if (target) target.scrollIntoView({ behavior: "instant" });
  }

  function note() {
    var place = document.getElementById("_note");
    if (!place) return;
    var kept = place.firstElementChild;
    place.lastElementChild.addEventListener("click", function () { garboard.need("note", function (part) { part.open(); }); });
    place.hidden = false;
    recount = function () {
      var records = JSON.parse(garboard.recall("records")) || [];
      kept.lastElementChild.textContent = records.length;
      kept.hidden = !records.length;
    };
    recount();
    /* The file is one page: what was kept meanwhile is counted when its form goes. */
    new MutationObserver(function () { garboard.attempt(recount); }).observe(document.body, { childList: true });
  }

  [note, go].forEach(garboard.attempt);
  started = true;
  if (garboard.recall("timers")) garboard.need("timers");
  addEventListener("hashchange", function () { garboard.attempt(go); });
})();
