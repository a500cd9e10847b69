/* What the working mode adds to the marks of a step: fields for readings, timers for waits and runs, and
   where the tools and parts lie that the step names; and the cautions of the job in full, beside the step. */
garboard.part("marks", (garboard) => (job, deck) => {
  "use strict";
  const { say, make } = garboard;
  const { button, el, set, status } = deck;
  const inputs = [];
  const timed = [];
  const meanwhile = status("p");
  meanwhile.className = "meanwhile";

  function dress(step) {
    const hand = job.all(".act a[href^='#']", step.words).map(toHand).filter(Boolean);
    if (hand.length) step.words.querySelector(".act").after(el("ul", hand, { className: "hand" }));
    job.all("[data-read]", step.words).forEach(reading);
    job.all("[data-cycle]", step.words).forEach((mark, at) => timing(step, mark, at));
  }

  /* The line of a tool, a part or a torque that a step names. */
  function toHand(link) {
    const line = document.getElementById(link.hash.slice(1));
    if (!line || !/^(tool|part|fig)-/.test(line.id)) return null;
    const pieces = line.matches("tr") ? job.all("th > *, td > *", line) : Array.from(line.children);
    return el("li", pieces.reduce((row, piece) => row.concat(piece.cloneNode(true), " "), []));
  }

  function reading(mark) {
    const id = mark.getAttribute("data-read");
    const mine = job.fields.filter((field) => field.id === id);
    const place = el("div", [], { className: "taken" });
    mine.forEach((field) => {
      const input = el("input", [], { type: "text", autocomplete: "off", inputMode: /[°A]/.test(field.unit) || field.low < 0 ? "text" : "decimal" });
      const said = status("strong");
      if (!field.point) input.setAttribute("aria-label", field.name);
      input.addEventListener("input", () => { job.write(field, input.value); check(); });
      inputs.push({ field, input, said });
      place.append(el("label", [el("span", [field.point], { dir: "auto" }), input, " " + field.unit]), said);
    });
    const past = job.all("#read-" + id + " .pointline").filter((line) => line.querySelector(".figure")).map(job.plain);
    const gear = job.gears.find((one) => one.id === job.gear);
    const own = past.filter((line) => gear && line.indexOf(gear.title) === 0);
    (own.length ? own : past).forEach((line) => place.append(el("p", [line], { className: "aside", dir: "auto" })));
    mark.append(place);
  }

  /* What a figure comes to, in words, as soon as it is typed. */
  function check() {
    inputs.forEach(({ field, input, said }) => {
      const text = job.written(field).trim();
      if (input !== document.activeElement) input.value = text;
      const figure = job.number(text);
      const value = figure === null ? NaN : +figure.replace("~", "");
      const outside = (field.low !== null && value < field.low) || (field.high !== null && value > field.high);
      const wrong = !text ? "" : figure === null ? say("deck.no-figure") : outside ? say("deck.outside", { limits: field.limits }) : "";
      set(said, wrong);
      input.setAttribute("aria-invalid", wrong ? "true" : "false");
    });
  }

  function timing(step, mark, at) {
    const { cycle, all, free } = job.cycleOf(mark);
    if (!(all > 0)) return;
    const kind = mark.classList.contains("mark-run") ? "run" : "wait";
    const words = job.plain(mark.children[1]);
    const title = kind === "wait" && words.includes(": ") ? words.slice(words.indexOf(": ") + 2) : job.nameStep(step);
    const id = () => job.name.slice(5) + "#" + step.id + ":" + at;
    const told = make("b");
    const press = button(say("deck.timer"), () => garboard.need("timers", (timers) => {
      if (timers.state(id())) timers.stop(id());
      else timers.start({ id: id(), name: title, guide: job.guide, step: step.id, kind, cycle });
    }), "timer");
    const silent = el("p", [say("timers.silent")], { className: "aside", hidden: true });
    mark.append(el("div", [press, " ", told, silent], { className: "timing" }));
    timed.push((timers) => {
      const now = timers && timers.state(id());
      set(told, now ? now.text : "");
      silent.hidden = !now || now.kind === "over";
      set(press, say(!now ? "deck.timer" : now.kind === "over" ? "timers.away" : "timers.stop"));
      return now && now.kind !== "over" && (free || now.kind === "rest") ? step : null;
    });
  }

  /* Turns all timers on; while nobody need stand by one of them, the dock says what can be done, wherever the reader is. */
  function tick(timers) {
    const idle = timed.map((act) => act(timers)).filter(Boolean);
    const here = job.steps[job.spot()];
    const parts = idle.map((step) => suggest(step, here)).find(Boolean) || [];
    const key = parts.map((part) => part.href || part).join("");
    if (meanwhile.dataset.key === key) return;
    meanwhile.dataset.key = key;
    meanwhile.replaceChildren(...parts);
  }

  /* What is left of the stage alongside, in the words of the sheet's work plan if it has some. */
  function suggest(step, here) {
    const alongside = (one) => one.stage !== step.stage && job.all(".alongside a", one.stage).some((link) => link.hash === "#" + step.stage.id);
    const planned = document.querySelector("#plan [data-while~='" + step.id + "']");
    const other = job.undone().find(alongside);
    if (here && other && here.stage === other.stage) return null;
    const words = planned ? job.plain(planned) : other ? job.stageTitle(other.stage) : "";
    if (!other) return words && !job.steps.some(alongside) ? [words] : null;
    return [planned ? "" : say("deck.meanwhile") + " ", el("a", [words], { href: "#" + other.id, dir: "auto" })];
  }

  /* A caution of the job is read in full where the reader is: below its line, and away again. */
  function unfold(press) {
    const link = press.target.closest("a");
    const whole = link && document.getElementById(decodeURIComponent(link.hash.slice(1)));
    if (!whole || !whole.matches(".caution")) return;
    press.preventDefault();
    const line = link.closest("li");
    const below = line.nextElementSibling;
    const shown = !!below && below.matches(".unfolded");
    link.setAttribute("aria-expanded", shown ? "false" : "true");
    if (shown) return below.remove();
    const copy = whole.cloneNode(true);
    [copy].concat(job.all("[id]", copy)).forEach((one) => one.removeAttribute("id"));
    line.after(el("li", [copy], { className: "unfolded" }));
  }

  return { dress, unfold, check, timed, tick, meanwhile };
});
