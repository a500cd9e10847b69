/* Working through a guide: one step at a time, or the whole list with boxes to tick. It uses the sheet as
   it stands and hides what is not at hand, so that no view has words of its own or drops a caution. */
garboard.part("deck", (garboard) => {
  "use strict";
  const { say, make } = garboard;
  let job = null;
  let asks = null;
  let marks = null;
  let again = null;
  let timers = null;
  let built = false;

  function el(kind, parts, more) {
    const made = make(kind);
    made.append(...parts);
    return Object.assign(made, more);
  }
  function button(text, act, kind) {
    const made = el("button", [text], { type: "button", className: kind || "" });
    made.addEventListener("click", act);
    return made;
  }
  const status = (kind) => {
    const made = make(kind);
    made.setAttribute("role", "status");
    return made;
  };
  const set = (place, text) => { if (place.textContent !== text) place.textContent = text; };
  const off = (place, yes) => place.classList.toggle("off", yes);
  /* In a file of many guides, places carry the name of theirs in front. */
  const here = () => garboard.place || "";
  const anchor = () => decodeURIComponent(location.hash.slice(1)).replace(here(), "");

  /* --- What stands in the sheet and in the dock ----------------------------------------------------- */

  const ui = { panel: el("section", [], { id: "_panel", hidden: true }) };
  const deck = { panel: ui.panel, asking: false, button, el, set, status, show, go, start, stopped, pause,
    /* A word that is seen and heard, until the reader moves on. */
    noted: (text) => { ui.noted.textContent = text; },
  };

  function build() {
    if (built) return;
    built = true;
    again = again(job);
    asks = asks(job, deck, again);
    marks = marks(job, deck);
    ui.where = el("p", [], { id: "_where", tabIndex: -1 });
    ui.shut = status("p");
    ui.shut.className = "shut";
    ui.back = button(say("deck.back"), () => go(job.spot() - 1));
    ui.done = button("", (press) => { if (press.detail < 2) tickOff(); }, "main");
    ui.next = button(say("deck.next"), () => go(job.spot() + 1));
    ui.mode = button("", () => { job.work.mode = job.work.mode === "one" ? "whole" : "one"; job.keep(); show(true); });
    ui.stop = button("", () => asks.breakOff());
    ui.end = button(say("deck.to-end"), () => { job.work.mode = "one"; go(job.steps.length); }, "main");
    ui.forgot = make("p", say("deck.forgets"));
    ui.noted = status("p");
    ui.large = el("div", [ui.back, ui.done, ui.next], { className: "large" });
    ui.small = el("div", [ui.mode, button(say("deck.finding"), () => asks.finding()), ui.stop], { className: "small" });
    ui.dock = el("section", [ui.forgot, ui.noted, ui.shut, marks.meanwhile, ui.large, ui.small], { id: "_dock" });
    ui.dock.setAttribute("aria-label", say("deck.title"));
    ui.light = document.getElementById("_light");
    ui.home = ui.light && ui.light.parentNode;
    ui.said = status("p");
    ui.said.className = "unseen";
    ui.repeated = el("div", [], { className: "repeated" });
    ui.again = el("section", [make("h3", say("deck.cautions"))].concat(
      job.all(".cautionlines, .cautions-head .unlisted").map((one) => one.cloneNode(true))), { className: "again" });
    ui.again.addEventListener("click", marks.unfold);
    job.sheet.querySelector(".head").after(ui.where, ui.panel);
    job.list.append(ui.again, ui.end);
    job.sheet.append(ui.dock, ui.said);
    if (window.ResizeObserver) new ResizeObserver(() => document.body.style.setProperty("--dock", ui.dock.offsetHeight + "px")).observe(ui.dock);
    job.steps.forEach((step) => {
      step.box = el("input", [], { type: "checkbox", value: step.id });
      step.box.setAttribute("aria-label", say("deck.tick", { n: job.nameStep(step) }));
      step.box.addEventListener("change", () => { job.tick(step, step.box.checked); show(); });
      step.words.before(el("label", [step.box], { className: "tick" }));
      marks.dress(step);
    });
  }

  /* --- Moving --------------------------------------------------------------------------------------- */

  function go(at) {
    const to = Math.max(-1, Math.min(job.steps.length, at));
    deck.asking = false;
    ui.noted.textContent = "";
    job.work.at = to < 0 ? "start" : to === job.steps.length ? "end" : job.steps[to].id;
    job.keep();
    /* The address tells where the reader is; browsers may refuse that to a page that is a file. */
    try { history.replaceState(null, "", "#" + here() + (job.byId.has(job.work.at) ? job.work.at : "_where")); } catch (refused) { /* it is remembered all the same */ }
    show(true);
  }

  function tickOff() {
    const step = job.steps[job.spot()];
    if (!step) return;
    const on = !job.ticked(step);
    job.tick(step, on);
    if (on) go(job.after(step));
    else show();
  }

  /* --- Showing -------------------------------------------------------------------------------------- */

  function show(moved) {
    const at = job.spot();
    const last = job.steps.length;
    const step = job.steps[at] || null;
    const one = job.work.mode === "one";
    document.body.classList.add("working");
    document.body.classList.toggle("one", one || deck.asking);
    let behind = false;
    Array.from(job.sheet.children).forEach((place) => {
      if (place === job.list) behind = true;
      if ([ui.dock, ui.said, ui.panel, ui.where].includes(place) || place.matches(".head")) return;
      const here = !one || (place === job.list ? !!step : !step && behind === at >= 0 && !place.matches("#history, #sheet-facts"));
      off(place, deck.asking || !here);
    });
    job.steps.forEach((each) => {
      off(each.place, one && each !== step);
      each.box.checked = job.ticked(each);
      each.place.classList.toggle("done", each.box.checked);
    });
    job.all(".stage", job.list).forEach((stage) => off(stage, one && (!step || stage !== step.stage)));
    job.all(".stagebody > .off", job.list).forEach((place) => off(place, false));
    if (step && one) aroundStep(step);
    repeat(one ? step : null);
    off(ui.again, !one);
    const count = last - job.undone().length;
    if (!deck.asking) {
      const told = one && at < 0 && asks.start();
      ui.panel.hidden = !(told || (one && at === last));
      ui.next.classList.toggle("second", told);
      set(ui.next, say(at >= 0 ? "deck.next" : told ? "deck.from-start" : "deck.first"));
      if (!told && !ui.panel.hidden && !(document.activeElement.matches("#_panel textarea") && !moved)) asks.end();
    }
    set(ui.where, deck.asking ? "" : !one ? say("deck.ticked", { n: count, all: last }) : at < 0 ? say("deck.before") : step
      ? say("deck.where", { n: at + 1, all: last }) + (job.ticked(step) ? " · " + say("deck.is-ticked") : "") : "");
    const shut = job.left();
    ui.shut.hidden = !shut.length;
    set(ui.shut, shut.length ? say("deck.open") + " " + shut.join(" · ") : "");
    ui.shut.tabIndex = ui.shut.scrollHeight > ui.shut.clientHeight ? 0 : -1;
    const safe = asks.safe();
    ui.back.disabled = at < 0;
    ui.next.disabled = at >= last;
    ui.done.hidden = !step;
    /* Taking a tick back is no main thing to do. */
    const behindUs = !!step && job.ticked(step);
    ui.done.classList.toggle("main", !behindUs);
    ui.next.classList.toggle("main", behindUs);
    set(ui.done, say(behindUs ? "deck.untick" : "deck.done"));
    ui.large.hidden = !one || deck.asking;
    set(ui.mode, say(one ? "deck.whole" : "deck.step-by-step"));
    set(ui.stop, say(safe ? "deck.stop-here" : "deck.stop"));
    ui.stop.classList.toggle("safe", safe);
    off(ui.end, one);
    ui.small.hidden = deck.asking;
    ui.forgot.hidden = !job.forgets;
    marks.check();
    marks.tick(timers);
    if (moved) arrive(step, one);
  }

  /* Prose between the steps goes with the step before or behind it. */
  function aroundStep(step) {
    const row = Array.from(step.stage.querySelector(".stagebody").children).filter((place) => place !== ui.repeated);
    row.forEach((place, at) => {
      if (place.matches(".steplist")) return;
      const steplist = (way) => { let to = at; while (row[to] && !row[to].matches(".steplist")) to += way; return row[to]; };
      const [before, after] = [steplist(-1), steplist(1)];
      const here = (after && after.firstElementChild === step.place) || (before && before.lastElementChild === step.place);
      off(place, !here || place.matches(".caution"));
    });
  }

  /* The cautions of a stage stand before each of its steps. */
  function repeat(step) {
    ui.repeated.replaceChildren();
    if (!step) return ui.repeated.remove();
    const copies = job.all("[data-stage], .stagebody > .caution", step.stage).filter((one) => !step.place.contains(one)).map((one) => one.cloneNode(true));
    copies.forEach((copy) => { off(copy, false); job.all("[id]", copy).forEach((one) => one.removeAttribute("id")); });
    if (copies.length) ui.repeated.append(el("p", [say("deck.stage-cautions")], { className: "label" }), ...copies);
    step.stage.querySelector(".stagebody").prepend(ui.repeated);
  }

  /* To the top of what is new; what a reader hears is the place, the cautions and the words. */
  function arrive(step, one) {
    const focus = document.activeElement;
    const lost = !focus || focus === document.body || focus.disabled || !focus.getClientRects().length;
    if (lost) (deck.asking ? ui.panel.firstChild : one || !step ? ui.where : step.place.querySelector(".number a")).focus({ preventScroll: true });
    if (one || !step) scrollTo({ top: 0, behavior: "instant" });
    else step.place.scrollIntoView({ behavior: "instant", block: "center" });
    const words = step ? job.all(".caution", ui.repeated).concat(job.all(".caution, .act", step.words)).map(job.plain) : [];
    ui.said.textContent = [ui.where.textContent, step ? job.stageTitle(step.stage) : ""].concat(words).filter(Boolean)
      .map((text) => (/[.!?:…]$/.test(text) ? text : text + ".")).join(" ");
  }

  /* --- Beginning and ending ------------------------------------------------------------------------- */

  function pause(finished) {
    job.work.paused = true;
    job.work.finished = !!finished;
    job.keep();
  }

  function stopped() {
    document.body.classList.remove("working", "one");
    deck.asking = false;
    job.work = null;
    job.all(".off", job.sheet).forEach((place) => off(place, false));
    off(ui.again, true);
    off(ui.end, true);
    ui.repeated.remove();
    ui.panel.hidden = ui.dock.hidden = true;
    ui.where.textContent = "";
    awake(false);
    dress();
    if (ui.light) ui.home.prepend(ui.light);
    if (timers) timers.place();
    document.querySelector(".work").focus({ preventScroll: true });
    scrollTo({ top: 0, behavior: "instant" });
  }

  /* `asked`: somebody pressed a button to begin or to go on, and is led to the first step not ticked off. */
  function start(gear, asked) {
    const lost = job.take(gear);
    deck.asking = false;
    build();
    ui.dock.hidden = false;
    if (ui.light) ui.small.prepend(ui.light);
    const waiting = job.undone();
    if (asked && waiting.length < job.steps.length) job.work.at = waiting.length ? waiting[0].id : "end";
    else if (job.byId.has(anchor())) job.work.at = anchor();
    if (!job.work.stamps.carried && again.left().length) job.carry(again.left());
    job.keep();
    show(true);
    if (lost) asks.changed(lost);
    awake(true);
    if (marks.timed.length) garboard.need("timers", (part) => {
      if (!timers) part.watch(() => { if (job.work) marks.tick(part); });
      timers = part;
      part.place();
      if (job.work) show();
    });
  }

  function choose() {
    job.take(job.gears[0].id);
    job.name = "";
    build();
    ui.dock.hidden = true;
    asks.gear();
  }

  /* The buttons say whether there is work to go on with. */
  function dress() {
    const text = say(job.kept().length ? "deck.again" : "deck.work");
    garboard.each(".work", (one) => { one.textContent = text; });
  }

  /* All that the work needs; where one part cannot be had, the buttons say so. */
  function ready(then) {
    const failed = () => garboard.each(".work", (one) => { one.textContent = say("part-missing"); });
    if (built) return then();
    garboard.need("marks", () => {}, failed);
    garboard.need("ask", () => {}, failed);
    garboard.need("again", () => {}, failed);
    garboard.need("work", (work) => garboard.need("ask", (ask) => garboard.need("marks", (mark) => garboard.need("again", (log) => {
      if (!job) {
        [job, asks, marks, again] = [work, ask, mark, log];
        job.ended = () => { if (job.work) stopped(); };
        job.listen(() => show());
      }
      garboard.style("deck", then);
    }))), failed);
  }

  function begin() {
    ready(() => {
      if (job.work) return;
      if (job.gears.length > 1) choose();
      else start(job.gears.length ? job.gears[0].id : null, true);
    });
  }

  function resume() {
    ready(() => {
      const running = job.kept().filter((one) => !one.raw.paused);
      if (running.length > 1) choose();
      else if (running.length) start(running[0].gear);
      else dress();
    });
  }

  /* --- The device ----------------------------------------------------------------------------------- */

  let lock = null;
  function awake(yes) {
    if (!navigator.wakeLock) return;
    if (!yes) {
      if (lock) lock.release().catch(() => {});
      lock = null;
    } else if (!document.hidden) {
      navigator.wakeLock.request("screen").then((got) => { if (job.work) lock = got; else got.release(); }).catch(() => {});
    }
  }
  document.addEventListener("visibilitychange", () => { if (job && job.work) awake(!document.hidden); });

  const moves = () => job && job.work && !deck.asking && job.work.mode === "one";

  /* A link into the sheet: to a step, or to what only the whole sheet shows; the way back leads to the step. */
  let wandered = false;
  addEventListener("hashchange", () => {
    const place = job && job.work && job.name && document.getElementById(anchor());
    if (!place) return;
    const step = job.byId.get(place.id) || (place.matches(".stage") && job.steps.find((one) => one.stage === place));
    if (step) {
      if (wandered) job.work.mode = "one";
      wandered = false;
      return go(step.at);
    }
    if (!moves() || place.getClientRects().length) return;
    wandered = true;
    job.work.mode = "whole";
    job.keep();
    show();
    place.scrollIntoView({ behavior: "instant" });
  });

  const away = "input, textarea, .scroll, pre, #_dock, #_timers";
  document.addEventListener("keydown", (key) => {
    const way = { ArrowRight: 1, ArrowLeft: -1 }[key.key];
    if (!way || !moves() || key.altKey || key.ctrlKey || key.metaKey || key.shiftKey || key.target.closest("input, textarea, .scroll, pre")) return;
    go(job.spot() + way);
  });

  /* A swipe moves, and never ticks. The edges of the screen belong to the device. */
  let touch = null;
  document.addEventListener("touchstart", (event) => {
    const at = event.touches[0];
    const ours = moves() && event.touches.length === 1 && !event.target.closest(away) && at.clientX > 24 && at.clientX < innerWidth - 24;
    touch = ours ? { x: at.clientX, y: at.clientY, time: event.timeStamp } : null;
  }, { passive: true });
  document.addEventListener("touchend", (event) => {
    const from = touch;
    touch = null;
    if (!from || !moves() || event.touches.length) return;
    const x = event.changedTouches[0].clientX - from.x;
    const y = event.changedTouches[0].clientY - from.y;
    if (Math.abs(x) > 60 && Math.abs(x) > 2 * Math.abs(y) && event.timeStamp - from.time < 900) go(job.spot() + (x < 0 ? 1 : -1));
  }, { passive: true });

  return { begin, resume, leave: () => { if (job && job.work) stopped(); } };
});
