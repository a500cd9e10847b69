/* Work on a guide as it is remembered: where the reader is, ticks, readings, findings, what is still shut,
   off or apart, and what of it goes into the log. Knows the sheet, shows nothing. Every touch is kept at
   once, so that a reload, a closed page or a flat battery costs nothing. */
garboard.part("work", (garboard) => {
  "use strict";
  const bare = (from) => Object.assign(Object.create(null), from);
  const all = (selector, from) => Array.from((from || document).querySelectorAll(selector));
  const plain = (node) => node.textContent.replace(/\s+/g, " ").trim();
  const isMap = (x) => !!x && typeof x === "object" && !Array.isArray(x);
  const when = (map, key) => (Number.isFinite(map[key]) ? map[key] : 0);
  const grades = ["good", "watch", "act"];

  const job = { work: null, gear: null, name: "", forgets: false, ended: null };
  let stored = null;

  const nameOf = (guide, gear) => "work:" + guide + (gear ? "/" + gear : "");
  const read = (name) => {
    try {
      const raw = JSON.parse(garboard.recall(name));
      return isMap(raw) && raw.v === 1 ? raw : null;
    } catch (rubbish) { return null; }
  };

  function forget(name) {
    garboard.remember(name, null);
    garboard.need("timers", (timers) => timers.drop(name.slice(5) + "#"));
    if (job.name === name && job.ended) job.ended();
  }

  /* The entry is kept: a finished job is forgotten; one broken off keeps its ticks for the next sitting. */
  garboard.clearWork = (guide, gear) => {
    const name = nameOf(guide, gear);
    const raw = read(name);
    if (!raw || !raw.paused || raw.finished) return forget(name);
    garboard.remember(name, JSON.stringify(Object.assign(raw, { begun: null, readings: {}, findings: [], notes: "", stamps: { carried: when(bare(raw.stamps), "carried") } })));
  };

  const sheet = document.getElementById("sheet");
  const list = document.getElementById("steps");
  if (!sheet || !list) return job;
  const guide = sheet.getAttribute("data-guide");
  const revision = sheet.getAttribute("data-revision") || "";

  /* --- The sheet ---------------------------------------------------------------------------------- */

  /* FNV-1a over the words of a step: tells a step that reads otherwise now. */
  function hash(text) {
    let sum = 2166136261;
    for (let at = 0; at < text.length; at += 1) sum = Math.imul(sum ^ text.charCodeAt(at), 16777619);
    return (sum >>> 0).toString(36);
  }

  const steps = all(".step", list).map((place, at) => ({
    at, place, id: place.id, stage: place.closest(".stage"), number: plain(place.querySelector(".number")),
    words: place.querySelector(".words"), text: hash(plain(place.querySelector(".words"))),
  }));
  const byId = new Map(steps.map((step) => [step.id, step]));
  const stageTitle = (stage) => plain(stage.querySelector("h3"));
  const nameStep = (step) => [stageTitle(step.stage), step.number].filter(Boolean).join(", ");
  /* The gear of a guide for several stands in the heads of its states; its id is where they lead. */
  const gears = all(".standing h3 :is(a, [data-to])").map((link) => ({ id: link.getAttribute("data-to") || decodeURIComponent(link.hash.slice(1)), title: plain(link) }));
  const marks = all("#steps .mark-isolate, #steps .mark-restore").map((mark) => ({
    step: byId.get(mark.closest(".step").id), key: mark.getAttribute("data-key"), what: plain(mark.lastElementChild),
    shuts: mark.classList.contains("mark-isolate"), stays: mark.hasAttribute("data-until"),
  }));
  /* Figures to be read, one a point; a reading that two steps ask for is one. */
  const fields = [];
  all("[data-read]", list).forEach((mark) => {
    const id = mark.getAttribute("data-read");
    const end = (name) => (mark.hasAttribute("data-" + name) ? +mark.getAttribute("data-" + name) : null);
    const limits = mark.querySelector(".limits");
    const called = plain(mark.querySelector("a"));
    all(".fillin > span", mark).forEach((span) => {
      const point = span.getAttribute("data-point") || "";
      if (fields.some((one) => one.id === id && one.point === point)) return;
      fields.push({
        id, point, unit: mark.getAttribute("data-unit"), low: end("low"), high: end("high"),
        limits: limits ? plain(limits).slice(1, -1) : "", name: called + (point ? ", " + point : ""),
      });
    });
  });

  /* --- What is remembered ------------------------------------------------------------------------- */

  const pad = (n) => ("0" + n).slice(-2);
  function minuteNow() {
    const d = new Date();
    return d.getFullYear() + "-" + pad(d.getMonth() + 1) + "-" + pad(d.getDate()) + "T" + pad(d.getHours()) + ":" + pad(d.getMinutes());
  }
  const fresh = () => ({
    v: 1, guide, gear: job.gear, revision, begun: minuteNow(), sitting: Date.now(), at: "start", mode: "one", paused: false, finished: false,
    ticks: bare(), texts: bare(), off: bare(), readings: bare(), stamps: bare(), findings: [], notes: "", left: null,
    carried: [], title: plain(sheet.querySelector("h1")), all: steps.length,
  });

  /* Takes over what another page, or this one before, wrote: for each thing the later word counts. */
  function merge(raw) {
    const part = (key) => bare(isMap(raw[key]) ? raw[key] : {});
    const theirs = { ticks: part("ticks"), off: part("off"), stamps: part("stamps"), readings: part("readings") };
    steps.forEach((step) => {
      const tick = when(theirs.ticks, step.id);
      const off = when(theirs.off, step.id);
      const mine = Math.max(when(job.work.ticks, step.id), when(job.work.off, step.id));
      if (Math.max(tick, off) <= mine) return;
      if (tick > off) setTick(step, tick);
      else unTick(step, off);
    });
    fields.forEach(({ id, point }) => {
      const value = point ? bare(isMap(theirs.readings[id]) ? theirs.readings[id] : {})[point] : theirs.readings[id];
      if (typeof value === "string") setReading(id, point, value, when(theirs.stamps, stampOf(id, point)));
    });
    (Array.isArray(raw.findings) ? raw.findings : []).forEach((one) => {
      if (isMap(one) && typeof one.what === "string" && Number.isFinite(one.on) && !job.work.findings.some((mine) => mine.on === one.on)) {
        job.work.findings.push({ what: one.what, grade: grades.includes(one.grade) ? one.grade : "watch", step: byId.has(one.step) ? one.step : null, on: one.on });
      }
    });
    Object.keys(theirs.off).forEach((key) => { if (/^finding/.test(key)) job.work.off[key] = theirs.off[key]; });
    job.work.findings = job.work.findings.filter((one) => !job.work.off["finding" + one.on]);
    if (when(theirs.stamps, "notes") > when(job.work.stamps, "notes") && typeof raw.notes === "string") {
      job.work.notes = raw.notes;
      job.work.stamps.notes = theirs.stamps.notes;
    }
    if (when(theirs.stamps, "carried") > when(job.work.stamps, "carried") && Array.isArray(raw.carried)) {
      job.work.carried = raw.carried.filter((one) => typeof one === "string");
      job.work.stamps.carried = theirs.stamps.carried;
    }
  }

  function setTick(step, at) {
    job.work.ticks[step.id] = at;
    job.work.texts[step.id] = step.text;
    delete job.work.off[step.id];
  }
  function unTick(step, at) {
    job.work.off[step.id] = at;
    delete job.work.ticks[step.id];
    delete job.work.texts[step.id];
  }
  const stampOf = (id, point) => "reading\n" + id + (point ? "\n" + point : "");
  function setReading(id, point, value, stamp) {
    const key = stampOf(id, point);
    if (stamp <= when(job.work.stamps, key)) return;
    job.work.stamps[key] = stamp;
    if (point) (job.work.readings[id] = bare(isMap(job.work.readings[id]) ? job.work.readings[id] : {}))[point] = value;
    else job.work.readings[id] = value;
  }

  /* What stood there becomes the work of this page. A sheet revised since keeps the ticks of steps that
     read as they did, wherever they stand now. Returns the steps that have lost theirs, or null. */
  function adopt(raw) {
    job.work = fresh();
    if (!raw || raw.guide !== guide) return null;
    let lost = null;
    if (raw.revision !== revision && isMap(raw.ticks)) {
      const texts = bare(isMap(raw.texts) ? raw.texts : {});
      const ticks = bare();
      const moved = [];
      Object.keys(raw.ticks).forEach((id) => {
        const step = byId.get(id);
        if (step && step.text === texts[id]) ticks[id] = raw.ticks[id];
        else moved.push(id);
      });
      lost = moved.filter((id) => {
        const step = steps.find((one) => one.text === texts[id] && !(one.id in ticks));
        if (step) ticks[step.id] = raw.ticks[id];
        return !step;
      });
      raw = Object.assign({}, raw, { ticks, off: {} });
    }
    merge(raw);
    if (/^\d{4}-\d\d-\d\dT\d\d:\d\d$/.test(raw.begun)) {
      job.work.begun = raw.begun;
      if (Number.isFinite(raw.sitting)) job.work.sitting = raw.sitting;
    }
    if (raw.at === "end" || byId.has(raw.at)) job.work.at = raw.at;
    if (raw.mode === "whole") job.work.mode = "whole";
    job.work.paused = raw.paused === true;
    return lost;
  }

  function keep() {
    const text = garboard.recall(job.name);
    const raw = text !== stored ? read(job.name) : null;
    if (raw && raw.revision === revision) merge(raw);
    job.work.left = left();
    const mine = JSON.stringify(job.work);
    job.forgets = !garboard.remember(job.name, mine);
    stored = job.forgets ? garboard.recall(job.name) : mine;
  }

  function tick(step, on) {
    const last = Math.max(when(job.work.ticks, step.id), when(job.work.off, step.id)) + 1;
    (on ? setTick : unTick)(step, Math.max(Date.now(), last));
    keep();
  }

  function write(field, text) {
    setReading(field.id, field.point, text, Math.max(Date.now(), when(job.work.stamps, stampOf(field.id, field.point)) + 1));
    keep();
  }
  function written(field) {
    const value = field.point ? bare(isMap(job.work.readings[field.id]) ? job.work.readings[field.id] : {})[field.point] : job.work.readings[field.id];
    return typeof value === "string" ? value : "";
  }

  function note(text) {
    job.work.notes = text;
    job.work.stamps.notes = Date.now();
    keep();
  }

  /* How the boat was left in an earlier sitting: it stands until somebody says that it is back. */
  function carry(lines) {
    job.work.carried = lines;
    job.work.stamps.carried = Math.max(Date.now(), when(job.work.stamps, "carried") + 1);
    keep();
  }

  function find(what, grade) {
    let on = Date.now();
    while (job.work.findings.some((one) => one.on === on)) on += 1;
    job.work.findings.push({ what, grade, step: byId.has(job.work.at) ? job.work.at : null, on });
    keep();
  }
  function unfind(finding) {
    job.work.off["finding" + finding.on] = Date.now();
    job.work.findings = job.work.findings.filter((one) => one !== finding);
    keep();
  }

  /* --- What follows from it ----------------------------------------------------------------------- */

  const ticked = (step) => when(job.work.ticks, step.id) > 0;
  const undone = () => steps.filter((step) => !ticked(step));

  /* Marks of what is still shut, off or apart. */
  function open() {
    const found = new Map();
    marks.filter((mark) => ticked(mark.step)).forEach((mark) => {
      if (mark.shuts) found.set(mark.key, mark);
      else found.delete(mark.key);
    });
    return Array.from(found.values());
  }

  const left = () => open().map((mark) => mark.what).concat(job.work.carried);

  /* Minutes that the marks of a step give it. */
  function estimate(step) {
    let sum = 0;
    all(".mark-takes", step.words).forEach((mark) => {
      const each = { days: 1440, h: 60, min: 1, s: 1 / 60 };
      plain(mark.lastElementChild).replace(/([\d.]+) (days|h|min|s)\b/g, (whole, n, unit) => { sum += n * each[unit]; });
    });
    all("[data-cycle]", step.words).forEach((mark) => { sum += cycleOf(mark).all / 60; });
    return sum;
  }
  function cycleOf(mark) {
    const [run, on, off, free] = mark.getAttribute("data-cycle").split(" ");
    return { cycle: [+run, +on, +off], all: +run + (Math.ceil(run / on) - 1) * off, free: free === "u" };
  }

  /* Minutes of this sitting: from tick to tick; of a long pause no more than the step takes. */
  function minutes() {
    let before = job.work.sitting;
    let sum = 0;
    steps.filter((step) => when(job.work.ticks, step.id) >= before).sort((a, b) => job.work.ticks[a.id] - job.work.ticks[b.id]).forEach((step) => {
      const gap = (job.work.ticks[step.id] - before) / 60000;
      sum += gap > 45 ? Math.min(gap, estimate(step)) : gap;
      before = job.work.ticks[step.id];
    });
    return Math.round(sum);
  }

  /* A figure as it is typed, with decimal comma or point, as the book writes it; null: it is none. */
  const number = (text) => {
    const found = /^(~?)\s*([-+\u2212]?)(\d+)(?:[.,](\d+))?$/.exec(text.trim());
    return found ? found[1] + found[2].replace("\u2212", "-").replace("+", "") + found[3] + (found[4] ? "." + found[4] : "") : null;
  };

  /* What the entry is made of. `left`: how the boat is left, a line each. */
  function draft(finished, left) {
    const notes = [job.work.notes.trim()];
    const readings = bare();
    fields.forEach((field) => {
      const typed = written(field).trim();
      const figure = number(typed);
      if (figure === null) return typed && notes.push(field.name + ": " + typed);
      const text = figure + (field.unit ? " " + field.unit : "");
      if (!field.point) readings[field.id] = text;
      else (readings[field.id] = readings[field.id] || bare())[field.point] = text;
    });
    const next = undone()[0];
    return {
      kind: "work", jobs: [job.name.slice(5)], guide, gear: job.gear, title: plain(sheet.querySelector("h1")), begun: job.work.begun, finished,
      reached: !finished && next ? stageTitle(next.stage) : null, left, minutes: minutes(), readings,
      findings: job.work.findings.map(({ what, grade, step }) => ({ what, grade, step })),
      notes: notes.filter(Boolean).join("\n\n"),
      except: finished ? undone().map((step) => nameStep(step) + ": " + plain(step.place.querySelector(".act"))) : [],
    };
  }

  /* Where the reader is: -1 before the first step, the number of steps behind the last. */
  function spot() {
    const step = byId.get(job.work.at);
    return step ? step.at : job.work.at === "end" ? steps.length : -1;
  }

  /* After a step: the next of its stage; of the stage it runs alongside; the next on the sheet. */
  function after(step) {
    const host = all(".alongside a", step.stage).map((link) => link.hash.slice(1));
    const left = undone();
    const next = left.find((one) => one.at > step.at && one.stage === step.stage) ||
      left.find((one) => host.includes(one.stage.id)) || left.find((one) => one.at > step.at);
    return next ? next.at : steps.length;
  }

  /* --- Taking up and listening -------------------------------------------------------------------- */

  /* Takes up the work on this guide, for one piece of gear. Returns what `adopt` does. */
  function take(gear) {
    job.gear = gear;
    job.name = nameOf(guide, gear);
    stored = garboard.recall(job.name);
    const lost = adopt(read(job.name));
    job.work.paused = false;
    return lost;
  }

  /* What another page of this guide has written meanwhile; `changed` is told, or that the work has ended. */
  function listen(changed) {
    addEventListener("storage", (change) => {
      if (!job.work || !job.name || change.key !== "garboard:" + garboard.book + ":" + job.name) return;
      const text = garboard.recall(job.name);
      if (text === stored) return;
      const raw = read(job.name);
      if (!raw || raw.paused) return job.ended && job.ended();
      stored = text;
      if (raw.revision === revision) merge(raw);
      changed();
    });
  }

  /* Work on this guide that this device remembers. */
  const kept = () => (gears.length ? gears.map((one) => one.id) : [null])
    .map((gear) => ({ gear, raw: read(nameOf(guide, gear)) })).filter((one) => one.raw && one.raw.guide === guide);

  return Object.assign(job, {
    sheet, list, guide, steps, byId, gears, marks, fields, grades, stageTitle, nameStep, plain, all, number, cycleOf,
    take, keep, tick, write, written, note, carry, find, unfind, spot, after, ticked, undone, open, left, draft, kept, listen,
    read: (gear) => read(nameOf(guide, gear)), forget: () => forget(job.name),
  });
});
