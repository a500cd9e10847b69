/* The search index: finds documents by words. Its files are classic scripts in assets/search/, each loaded
   when it is first needed and handing itself to window.garboardSearch. In a page that holds everything,
   garboardSearch is an object that has them by name before this script runs. What they hold is told in
   src/site/search/, whose terms.rs and this file must find the same words in a text. */
garboard.part("search-index", g => {
  "use strict";

  /* One search loads at most this many files of words; none is over 18 KB. */
  const MOST = 8;
  const WEIGHTS = [10, 5, 2, 1];
  const SHELF = 0x4000000;
  const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  const JOINS = "-\u2010–.,/\u2044*·⋅∙•_×";
  const ALONE = /[\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\u{20000}-\u{3ffff}]/u;
  const IN_WORD = /[\p{Alphabetic}\p{N}]/u;
  const BETWEEN = ["to", "and", "or", "bis", "und", "oder"];
  let index, units;

  const fold = letter => letter < "\x80" ? letter.toLowerCase() : letter.toLowerCase().normalize("NFKD").toLowerCase()
    .normalize("NFKD").replace(/\p{M}/gu, "").replace(/[^]/g, unit => index.letters[unit] || unit);

  /* The words of a text with the places where they stand; `whole`: its parts are words as well. */
  function scan(text, take) {
    let word = "", parts = [], joint = "", number = "", begun = 0, ended = 0, at = 0;
    const cut = found => Array.from(found).slice(0, 32).join("");
    let first = "", range;
    /* The first figure of a range is found with the unit behind the second as well. */
    function send(found, from, to, whole) {
      const term = cut(found), unit = term.replace(/^[0-9.]+/, "");
      take(term, from, to, whole);
      if (!unit) [first, range] = [term, [from, to]];
      else if (first && !BETWEEN.includes(term)) {
        if (unit !== term && units.get(unit) === unit) take(cut(first + unit), ...range, true);
        first = "";
      }
    }
    function endNumber() {
      if (number) send(number, begun, ended);
      number = "";
    }
    function endWord() {
      const broken = joint;
      joint = "";
      if (!word) return;
      const figures = /^[0-9.]*/.exec(word)[0].length, rest = word.slice(figures);
      const from = parts[0].from, to = parts[parts.length - 1].to;
      const unit = parts.every((part, n) => !n || part.at >= figures) && units.get(rest);
      if (figures || !unit) endNumber();
      if (unit) {
        if (!number) begun = from;
        number += word.slice(0, figures) + unit;
        ended = to;
        endNumber();
      } else if (!rest && !parts[1]) [number, begun, ended] = [word, from, to];
      else {
        /* A part that is a unit, or a number with one, has the spelling that it has by itself. */
        const spelled = part => part.replace(/^([0-9.]*)([^]*)$/, (all, number, rest) => number + (units.get(rest) || rest));
        parts.forEach((part, n) => send(spelled(word.slice(part.at, parts[n + 1] ? parts[n + 1].at : word.length)), part.from, part.to));
        if (parts[1]) send(spelled(word), from, to, true);
      }
      word = "";
      if (broken) endNumber();
    }
    for (const letter of text) {
      const next = at + letter.length;
      for (const one of fold(letter)) {
        if (ALONE.test(one) && IN_WORD.test(one)) {
          endWord();
          endNumber();
          send(one, at, next);
        } else if (IN_WORD.test(one)) {
          if (joint === "×") word += "x";
          else if (/[.,]/.test(joint) && /[0-9]$/.test(word) && /[0-9]/.test(one)) word += ".";
          else if (joint === ",") endWord();
          else if (joint) parts.push({ at: word.length, from: at });
          joint = "";
          if (!word) parts = [{ at: 0, from: at }];
          word += one;
          parts[parts.length - 1].to = next;
        } else if (JOINS.includes(one) && word && !joint) joint = one;
        else {
          endWord();
          if (!/\s/.test(one) && one !== "°") endNumber();
        }
      }
      at = next;
    }
    endWord();
    endNumber();
  }

  /* --- Files ------------------------------------------------------------------------------------ */

  const given = window.garboardSearch || {}, files = {}, got = {};
  window.garboardSearch = (name, matter) => { got[name] = matter; };

  function load(name) {
    return files[name] = files[name] || new Promise((done, failed) => {
      if (name in given) return done(given[name]);
      if (g.root === null) return failed(name);
      const tag = document.createElement("script");
      tag.src = g.root + "assets/search/" + name + ".js";
      tag.onload = tag.onerror = () => {
        if (name in got) return done(got[name]);
        delete files[name];
        failed(name);
      };
      document.head.appendChild(tag);
    });
  }

  /* Files that hold `word` and what begins with it. */
  function holders(letter, starts, word) {
    let at = starts.length - 1;
    while (at >= 0 && starts[at] > word) at -= 1;
    const found = starts.slice(Math.max(at, 0), at + 1);
    if (word.length > 1) while (++at < starts.length && starts[at].startsWith(word)) found.push(starts[at]);
    return found.map(start => letter + "-" + start.replace(/[^a-z0-9]/g, unit => "_" + unit.charCodeAt(0).toString(16)));
  }

  /* Notes in `into` how well each document of the lists has the word; gives the true count of cut lists. */
  function read(lists, quality, into) {
    let at = 0;
    const digit = () => DIGITS.indexOf(lists[at]);
    const more = () => at < lists.length && digit() >= 0;
    function number() {
      let sum = 0, times = 1, value;
      do {
        value = digit();
        at += 1;
        sum += (value & 31) * times;
        times *= 32;
      } while (value > 31);
      return sum;
    }
    while (at < lists.length) {
      const list = index.markers.indexOf(lists[at++]);
      if (list < 0) return number();
      const score = quality * WEIGHTS[list % 4];
      const note = n => {
        const key = (list >> 2) * SHELF + n;
        if (!(into.get(key) >= score)) into.set(key, score);
      };
      if (lists[at] === "=") {
        at += 1;
        for (let n = number(); more(); at += 1, n += 6) for (let bit = 0; bit < 6; bit += 1) if (digit() >> bit & 1) note(n + bit);
      } else for (let n = 0; more(); n += 1) note(n += number());
    }
    return 0;
  }

  /* --- Finding ---------------------------------------------------------------------------------- */

  /* Changes of one letter, or of two neighbours swapped, that make `b` of `a`; half a change more where `b`
     only begins so. */
  function distance(a, b) {
    let last = [], row = Array.from({ length: b.length + 1 }, (_, n) => n);
    for (let i = 1; i <= a.length; i += 1) {
      const before = last;
      last = row;
      row = [i];
      for (let j = 1; j <= b.length; j += 1) {
        row[j] = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
        if (a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) row[j] = Math.min(row[j], before[j - 2] + 1);
      }
    }
    return Math.min(row[b.length], Math.min.apply(null, row) + 0.5);
  }

  /* How well a word of a text is one that is searched for. */
  const quality = (one, term) => term === one.word ? 1 : one.near.has(term) ? 0.8 : one.word.length > 1 && term.startsWith(one.word) ? 0.7 : 0;

  /* Where a text has words that are searched for, and which. */
  function spots(words, text) {
    const found = [];
    scan(text, (term, from, to) => words.forEach((one, n) => { if (quality(one, term)) found.push({ from, to, n }); }));
    return found.sort((a, b) => a.from - b.from || b.to - a.to);
  }

  async function gather(words) {
    const used = new Set();
    async function open(names) {
      names.forEach(name => { if (used.size < MOST) used.add(name); });
      const matters = await Promise.all(names.filter(name => used.has(name)).map(load));
      return [].concat(...matters.map(matter => matter.split("|").map(line => line.split(" "))));
    }
    const note = (one, all) => all.forEach(([term, lists]) => {
      const good = quality(one, term);
      if (good) one.cut = Math.max(one.cut, read(lists, good, one.found));
    });
    const held = words.map(one => holders("t", index.terms, one.word));
    /* First what each word needs, then what only begins with it. */
    await open([].concat(...held.map(names => names.slice(0, 1))));
    for (const [n, one] of words.entries()) {
      const first = await open(held[n].slice(0, 1));
      const names = held[n].slice(0, held[n].length < 4 ? 3 : first.some(([term]) => term === one.word) ? 1 : 3);
      const all = await open(names);
      /* Not all that begin so were looked at: it may stand in more documents. */
      if ((names[1] && held[n][names.length]) || names.some(name => !used.has(name))) one.cut = 1;
      /* Of `winches` also `winch`, of `pumpen` also `pump`. */
      const shorter = /^(.{4,}?)(e?)[sn]$/.exec(one.word);
      if (shorter) one.near.add(shorter[1]).add(shorter[1] + shorter[2]);
      note(one, all);
      if (one.found.size || one.whole || !/^\p{Alphabetic}{4,}$/u.test(one.word)) continue;
      /* A typing error: looked for among those that begin alike, and those that end alike. */
      const tails = await open(holders("v", index.tails, Array.from(one.word).reverse().join("")).slice(0, 1));
      const far = one.word.length > 6 ? 2.5 : 1.5;
      const near = all.map(([term]) => term).concat([].concat(...tails)).filter(term => term.length > one.word.length - 3)
        .map(term => ({ term, far: distance(one.word, term) })).filter(other => other.far <= far).sort((a, b) => a.far - b.far);
      near.forEach(other => { if (other.far === near[0].far && one.near.size < 6) one.near.add(other.term); });
      for (const term of one.near) note(one, await open(holders("t", index.terms, term).slice(0, 1)));
      if (one.found.size) one.meant = Array.from(new Set(near.map(other => other.term).filter(term => one.near.has(term))));
    }
  }

  /* Gives the documents that have all words, or else most of them, best first. */
  async function find(text) {
    index = await load("index");
    units = new Map(Object.entries(index.units));
    const words = [];
    scan(text, (word, from, to, whole) => {
      if (!words.some(one => one.word === word)) words.push({ word, said: text.slice(from, to), whole, near: new Set(), found: new Map(), cut: 0 });
    });
    /* Small words ("how do I …") say nothing of what is looked for, where others do. */
    const telling = words.filter(one => !index.small.includes(one.word));
    if (telling.length) words.splice(0, words.length, ...telling);
    words.sort((a, b) => !!a.whole - !!b.whole).splice(6);
    await gather(words);
    const total = index.shelves.reduce((sum, shelf) => sum + shelf[2], 0);
    const hits = new Map();
    /* A word whose lists were cut asks for nothing where there are others: it may stand in any document. */
    const asking = words.filter(one => !one.whole && !one.cut);
    words.forEach(one => {
      const rare = Math.log(1 + total / Math.max(one.cut, one.found.size, 1));
      one.found.forEach((score, key) => {
        const hit = hits.get(key) || { shelf: Math.floor(key / SHELF), number: key % SHELF, words: 0, score: 0 };
        if (asking.includes(one)) hit.words += 1;
        hit.score += score * rare;
        hits.set(key, hit);
      });
    });
    const found = Array.from(hits.values()), most = found.reduce((most, hit) => Math.max(most, hit.words), 0);
    const list = found.filter(hit => hit.words === most).sort((a, b) =>
      b.score - a.score || a.shelf - b.shelf || (a.shelf === 2 ? b.number - a.number : a.number - b.number));
    return { words, list, kinds: index.kinds, more: words.some(one => one.cut), all: most === asking.length };
  }

  /* What is shown of a hit. */
  async function text(hit) {
    const [letter, each] = index.shelves[hit.shelf];
    return (await load(letter + "-" + Math.floor(hit.number / each)))[hit.number % each];
  }

  return { find, text, spots, scan };
});
