/* Work that this phone has in hand, on the first page: which job, how far, and what is still shut, off or
   apart. `show(place, href)`: puts it behind `place`; `href(guide)` is where a guide stands. */
garboard.part("inhand", (garboard) => {
  "use strict";
  const { make, say } = garboard;
  const isMap = (x) => !!x && typeof x === "object" && !Array.isArray(x);

  function works() {
    const front = "garboard:" + garboard.book + ":";
    const found = [];
    let names = [];
    try { names = Object.keys(localStorage); } catch (refused) { return found; }
    names.filter((name) => name.startsWith(front + "work:")).sort().forEach((name) => {
      let raw = null;
      try { raw = JSON.parse(garboard.recall(name.slice(front.length))); } catch (rubbish) { raw = null; }
      if (!isMap(raw) || raw.v !== 1 || typeof raw.guide !== "string" || !/^[\w-]+$/.test(raw.guide)) return;
      const ticked = isMap(raw.ticks) ? Object.keys(raw.ticks).length : 0;
      const left = Array.isArray(raw.left) ? raw.left.filter((one) => typeof one === "string") : [];
      if (ticked || left.length) found.push({ raw, ticked, left });
    });
    return found;
  }

  function line({ raw, ticked, left }, href) {
    const item = make("li");
    const link = make("a", typeof raw.title === "string" && raw.title ? raw.title : raw.guide);
    link.href = href(raw.guide);
    link.dir = "auto";
    const known = Number.isFinite(raw.all) && raw.all >= ticked;
    item.append(link, " ", say(known ? "inhand.begun" : "inhand.begun-some", { n: ticked, all: raw.all }));
    if (left.length) item.append("; ", make("strong", say("inhand.left") + " " + left.join(" · ")));
    return item;
  }

  function show(place, href) {
    const old = document.getElementById("_inhand");
    if (old) old.remove();
    const found = works();
    if (!found.length) return;
    const box = make("section");
    const matter = make("div");
    const list = make("ul");
    Object.assign(box, { id: "_inhand", className: "part" });
    Object.assign(matter, { className: "matter" });
    list.append(...found.map((one) => line(one, href)));
    matter.append(list);
    box.append(make("h2", say("inhand.title")), matter);
    place.after(box);
  }

  return { show };
});
