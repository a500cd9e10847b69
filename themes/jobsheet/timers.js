/* Timers: a wait, or a machine that runs and rests by turns. They count from the moment they began, so
   they go on while the page is away or the phone sleeps, and stand in a bar on every page. */
garboard.part("timers", (garboard) => {
  "use strict";
  const { say, make } = garboard;
  const LONGEST = 366 * 86400;
  const DAY = 864e5;

  let timers = [];
  let stored = null;
  let saved = 0;
  let ticking = 0;
  let tapped = false;
  let sound = null;
  const heard = new Map();
  const watchers = [];

  const sane = (one) =>
    one && typeof one === "object" && [one.id, one.name, one.guide, one.step].every((text) => typeof text === "string") &&
    Array.isArray(one.cycle) && one.cycle.length === 3 && one.cycle.every((n) => Number.isFinite(n) && n >= 0 && n <= LONGEST) &&
    one.cycle[0] > 0 && one.cycle[1] > 0 && Number.isFinite(one.start) && Number.isFinite(one.seen);

  /* Takes over what another page has written. */
  function sync() {
    const text = garboard.recall("timers");
    if (text === stored) return;
    stored = text;
    let list = [];
    try { list = JSON.parse(text) || []; } catch (rubbish) { /* forgotten */ }
    timers = (Array.isArray(list) ? list : []).filter(sane).filter((one) => {
      const past = phase(one, Date.now());
      return past.kind !== "over" || past.since < DAY / 1000;
    });
  }

  function write() {
    const text = timers.length ? JSON.stringify(timers) : null;
    if (garboard.remember("timers", text)) stored = text;
    saved = Date.now();
  }

  /* What a timer does at a moment: `wait`, `run`, `rest` or `over`; which turn; seconds left of it. */
  function phase(one, now) {
    const [all, on, off] = one.cycle;
    const gone = Math.max(0, (now - one.start) / 1000);
    const turns = Math.ceil(all / on);
    const end = all + (turns - 1) * off;
    if (gone >= end) return { kind: "over", turn: -1, left: 0, since: gone - end };
    const turn = Math.floor(gone / (on + off));
    const within = gone - turn * (on + off);
    const runs = Math.min(on, all - turn * on);
    if (within < runs) return { kind: one.kind === "run" ? "run" : "wait", turn: 2 * turn, left: runs - within, rest: turn < turns - 1 ? off : 0 };
    return { kind: "rest", turn: 2 * turn + 1, left: on + off - within };
  }

  function clock(seconds) {
    const whole = Math.max(0, Math.ceil(seconds));
    const two = (n) => ("0" + n).slice(-2);
    const hours = Math.floor(whole / 3600);
    const minutes = Math.floor(whole / 60) % 60;
    return (hours ? hours + ":" + two(minutes) : minutes) + ":" + two(whole % 60);
  }

  const told = (past) => say("timers." + past.kind, { time: clock(past.left) });

  function tick() {
    sync();
    const now = Date.now();
    let back = false;
    timers.forEach((one) => {
      /* The clock was set back: what had gone by stays gone by, and no more. */
      if (now < one.seen - 2000) {
        one.start += now - one.seen;
        back = true;
      }
      if (one.start > now) one.start = now;
      one.seen = now;
      const past = phase(one, now);
      const before = heard.get(one.id);
      heard.set(one.id, past.turn);
      if (before !== undefined && before !== past.turn) alarm(one.name + ": " + told(past));
      else if (past.kind === "over" && before !== undefined && past.since < 300 && Math.floor(past.since) % 30 === 29) alarm();
    });
    if (back || Math.abs(now - saved) > 15000) write();
    show(now);
    watchers.forEach((watch) => garboard.attempt(watch));
    if (timers.length && !ticking) ticking = setInterval(tick, 1000);
    if (!timers.length && ticking) ticking = clearInterval(ticking) || 0;
  }

  /* A browser lets a page sound only after the reader has touched it. */
  function touched() {
    tapped = true;
    const Sound = window.AudioContext || window.webkitAudioContext;
    if (!timers.length || !Sound) return;
    try {
      sound = sound || new Sound();
      if (sound.state === "suspended") sound.resume();
    } catch (refused) { sound = null; }
  }

  function alarm(text) {
    if (text) said.textContent = text;
    if (!tapped) return;
    garboard.attempt(() => navigator.vibrate && navigator.vibrate([400, 200, 400, 200, 400]));
    if (!sound) return;
    [0, 0.4, 0.8].forEach((after) => {
      const tone = sound.createOscillator();
      const loud = sound.createGain();
      const at = sound.currentTime + after;
      tone.frequency.value = 880;
      loud.gain.value = 0.5;
      tone.connect(loud);
      loud.connect(sound.destination);
      tone.start(at);
      tone.stop(at + 0.25);
    });
  }

  const bar = make("section");
  bar.id = "_timers";
  bar.setAttribute("aria-label", say("timers.title"));
  const list = make("ul");
  const said = make("p");
  said.className = "unseen";
  said.setAttribute("role", "status");
  bar.append(list, said);
  const rows = new Map();

  function show(now) {
    rows.forEach((row, id) => {
      if (timers.some((one) => one.id === id)) return;
      row.item.remove();
      rows.delete(id);
    });
    timers.forEach((one) => {
      let row = rows.get(one.id);
      if (!row) {
        row = { item: make("li"), time: make("b"), stop: make("button") };
        const link = make("a", one.name);
        link.dir = "auto";
        link.href = (garboard.root === null ? "#" + (garboard.place === undefined ? "" : one.guide + ".") : garboard.root + "guides/" + encodeURIComponent(one.guide) + ".html#") + encodeURIComponent(one.step);
        row.stop.type = "button";
        row.stop.addEventListener("click", () => stop(one.id));
        row.item.append(link, row.time, row.stop);
        list.append(row.item);
        rows.set(one.id, row);
      }
      const past = phase(one, now);
      const over = past.kind === "over";
      const set = (place, text) => { if (place.textContent !== text) place.textContent = text; };
      row.item.classList.toggle("over", over);
      set(row.time, told(past));
      set(row.stop, say(over ? "timers.away" : "timers.stop"));
      row.stop.setAttribute("aria-label", row.stop.textContent + ": " + one.name);
    });
    bar.hidden = !timers.length;
  }

  /* Begins a timer. `cycle`: seconds in all, at a time, of rest; `kind`: `wait` or `run`. */
  function start(one) {
    sync();
    const now = Date.now();
    timers = timers.filter((other) => other.id !== one.id);
    timers.push({ id: one.id, name: one.name, guide: one.guide, step: one.step, kind: one.kind, cycle: one.cycle, start: now, seen: now });
    heard.set(one.id, 0);
    write();
    touched();
    tick();
  }

  function stop(id) {
    sync();
    timers = timers.filter((one) => one.id !== id);
    write();
    tick();
  }

  /* Ends the timers whose id begins so. */
  function drop(beginning) {
    sync();
    timers = timers.filter((one) => one.id.indexOf(beginning) !== 0);
    write();
    tick();
  }

  /* What the timer `id` does now, with its words; null where there is none. */
  function state(id) {
    const one = timers.find((other) => other.id === id);
    if (!one) return null;
    const past = phase(one, Date.now());
    past.text = told(past) + (past.rest ? ", " + say("timers.then-rest", { time: clock(past.rest) }) : "");
    return past;
  }

  /* In the dock of a page at work, else at the foot of the screen. */
  function place() {
    const dock = document.getElementById("_dock");
    if (dock && !dock.hidden) dock.prepend(bar);
    else document.body.append(bar);
  }

  addEventListener("storage", (change) => { if (change.key === null || /:timers$/.test(change.key)) tick(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) tick(); });
  addEventListener("pagehide", () => { sync(); if (timers.length) write(); });
  ["pointerdown", "keydown"].forEach((kind) => document.addEventListener(kind, touched, { passive: true }));
  garboard.style("deck");
  place();
  tick();

  return { start, stop, drop, state, place, watch: (act) => watchers.push(act) };
});
