/* The page to search from: a field, how many were found, and an ordinary list of links. */
garboard.part("search", g => {
  "use strict";

  /* Hits shown at a time: the texts of each can take a file of 18 KB. */
  const SHOWN = 8;
  const SPOTS = 3;
  /* Letters that are shown behind the first word found, of 200. */
  const NEAR = 140;
  const root = g.root || "";
  const [page, field, told, list, more] = ["_search", "_q", "_told", "_hits", "_more"].map(id => document.getElementById(id));
  let search = 0, soon = 0, rest = () => {};

  function make(name, style, into) {
    const element = into.appendChild(document.createElement(name));
    if (style) element.className = style;
    element.dir = "auto";
    return element;
  }

  /* The thick of what was found: where most of the words stand close together, and how many. */
  function thick(spots) {
    return spots.reduce((best, spot) => {
      const words = new Set(spots.filter(other => other.from >= spot.from && other.to <= spot.from + NEAR).map(other => other.n)).size;
      return words > best.words ? { from: spot.from, to: spot.to, words } : best;
    }, { from: 0, to: 0, words: 0 });
  }

  /* A text with what was found in it marked; a long one from a little before the thick of it. */
  function show(into, text, spots, length) {
    let from = 0, to = text.length;
    if (to > length) {
      const best = thick(spots);
      from = Math.max(0, Math.min(best.from - length + NEAR, to - length));
      if (from) from = Math.min(text.indexOf(" ", from) + 1 || best.from, best.from);
      if (from + length < to) to = Math.max(text.lastIndexOf(" ", from + length), best.to);
    }
    let at = from;
    spots.forEach(spot => {
      if (spot.from < at || spot.to > to) return;
      into.append(text.slice(at, spot.from));
      into.appendChild(document.createElement("mark")).textContent = text.slice(spot.from, spot.to);
      at = spot.to;
    });
    into.append(text.slice(at, to));
    if (from) into.prepend("… ");
    if (to < text.length) into.append(" …");
  }

  function line(index, found, [kind, title, href, detail, places]) {
    const item = make("li", "", list);
    make("p", "state", item).textContent = found.kinds[kind];
    const task = make("div", "task", item);
    const name = make("p", "name", task);
    const link = make("a", "", name);
    link.href = root + href;
    show(link, title, index.spots(found.words, title), 160);
    if (detail) {
      name.append(" ");
      show(make("span", "aside", name), detail, index.spots(found.words, detail), 80);
    }
    const rated = places.map(([label, fragment, text, heading]) => {
      const inLabel = heading ? index.spots(found.words, label) : [], spots = index.spots(found.words, text);
      return { label, fragment, text, inLabel, spots, words: Math.max(thick(inLabel).words, thick(spots).words) };
    });
    const most = Math.max(1, ...rated.map(place => place.words));
    const best = rated.filter(place => place.words === most).sort((a, b) => !!b.inLabel.length - !!a.inLabel.length).slice(0, SPOTS);
    let spots = null;
    best.forEach(place => {
      if (!place.label) return show(make("p", "spot", task), place.text, place.spots, 200);
      const spot = make("li", "", spots = spots || make("ul", "spots", task));
      const to = make("a", "", spot);
      to.href = root + (place.fragment ? href.replace(/#.*/, "") + "#" + place.fragment : href);
      show(to, place.label, place.inLabel, 100);
      if (place.text) show(make("p", "spot", spot), place.text, place.spots, 200);
    });
  }

  function tell(found) {
    const count = found.list.length;
    const parts = [count ? g.say(found.more ? "search.found-more" : "search.found", { n: count }) + "." : g.say("search.nothing")];
    if (count && !found.all) parts.push(g.say("search.most"));
    found.words.forEach(one => { if (one.meant) parts.push(g.say("search.meant", { word: one.said, words: one.meant.join(", ") })); });
    told.textContent = parts.join(" ");
  }

  /* Looks for what stands in the field; `then` when it is shown. */
  function look(then) {
    const mine = search += 1;
    const text = field.value.trim();
    const hash = "#q=" + encodeURIComponent(text);
    clearTimeout(soon);
    if (wanted() !== text) location.replace(hash);
    const failed = () => {
      if (mine === search) told.textContent = g.say("search.failed") || "?";
    };
    /* A single letter is the beginning of a word. */
    if (/^[\x00-\x7f]?$/.test(text)) {
      list.textContent = told.textContent = "";
      more.hidden = true;
      return;
    }
    g.need("search-index", async index => {
      try {
        const found = await index.find(text);
        let shown = 0;
        rest = async () => {
          const next = await Promise.all(found.list.slice(shown, shown + SHOWN).map(index.text));
          if (mine !== search) return;
          if (!shown) list.textContent = "";
          next.forEach(document => line(index, found, document));
          shown += SHOWN;
          more.hidden = shown >= found.list.length;
        };
        await rest();
        if (mine !== search) return;
        tell(found);
        if (then) then();
      } catch (failure) {
        if (window.console) console.error("garboard:", failure);
        failed();
      }
    }, failed);
  }

  /* The query of the address; without one the query that the field on another page sent. */
  function wanted() {
    const found = /^#q=(.*)/.exec(location.hash) || /[?&]q=([^&]*)/.exec(location.search.replace(/\+/g, "%20"));
    try { return found ? decodeURIComponent(found[1]).trim() : ""; } catch (spoiled) { return ""; }
  }

  function read() {
    if (field.value.trim() === wanted() && search) return;
    field.value = wanted();
    look();
  }

  const links = () => Array.from(list.querySelectorAll("a"));
  field.addEventListener("input", () => {
    clearTimeout(soon);
    soon = setTimeout(look, 250);
  });
  field.form.addEventListener("submit", event => {
    event.preventDefault();
    look(() => { if (links()[0]) links()[0].focus(); });
  });
  page.addEventListener("keydown", event => {
    const all = [field].concat(links(), more.hidden ? [] : [more]), at = all.indexOf(document.activeElement);
    const to = event.key === "ArrowDown" ? all[at + 1] : event.key === "ArrowUp" && at > 0 ? all[at - 1] : event.key === "Escape" && at ? field : null;
    if (!to) return;
    event.preventDefault();
    to.focus();
  });
  more.addEventListener("click", async () => {
    const before = links().length;
    await rest();
    if (links()[before]) links()[before].focus();
  });
  addEventListener("hashchange", read);
  page.hidden = false;
  if (wanted()) read();
});
if (document.getElementById("_search")) garboard.need("search");
