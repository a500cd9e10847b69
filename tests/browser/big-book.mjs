// Makes a large book: as many guides and entries as asked for, the same ones each time.
//   node big-book.mjs FOLDER GUIDES ENTRIES
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** Numbers that are the same on every run: mulberry32, a 32-bit generator in the public domain. */
function numbers(seed) {
  let state = seed >>> 0;
  return (limit) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) % limit;
  };
}

const SYLLABLES = "ba ke lo mi nu pra ster ten wo zel hal gri do fu cha vel in re con str mar pen tu sal or ver dis com".split(" ");
const BOAT = "oil filter engine water pump seal bolt check clean renew shaft valve hose impeller belt line drain plug look tank".split(" ");

/** A word: the first of 40,000 are common and the last rare, as in any language (Zipf's law). */
function word(next) {
  let rank = Math.floor(40000 ** (next(1e6) / 1e6));
  if (rank <= BOAT.length) return BOAT[rank - 1];
  let text = "";
  for (rank = rank * 11 + 5; rank > 0; rank = Math.floor(rank / SYLLABLES.length)) text += SYLLABLES[rank % SYLLABLES.length];
  return text;
}

export function bigBook(folder, guides, entries) {
  const next = numbers(20261124);
  const words = (count) => Array.from({ length: count }, () => word(next)).join(" ");
  const systems = ["engine", "hull", "rig", "deck", "plumbing", "electrics"];
  const write = (path, lines) => {
    mkdirSync(join(folder, path, ".."), { recursive: true });
    writeFileSync(join(folder, path), lines.join("\n") + "\n");
  };
  write("boat.yaml", [
    "name: Made Large", "language: en", "in-service: 1990-01-01",
    "systems:", ...systems.map((id) => `  - {id: ${id}, title: ${id[0].toUpperCase()}${id.slice(1)}}`),
    "meters: [{id: engine, title: Engine hours, unit: h}]",
  ]);
  write("stores.yaml", Array.from({ length: 600 }, (_, n) => `- {id: part-${n}, title: "${words(3)}", part-number: "AB-${1000 + n}", stowed: locker ${n % 9}}`));
  write("tools.yaml", Array.from({ length: 150 }, (_, n) => `- {id: tool-${n}, title: "${words(2)} ${8 + (n % 20)} mm", stowed: drawer ${n % 6}}`));
  for (let n = 0; n < guides; n += 1) {
    const lines = ["---", `title: "${words(5)} ${n}"`, `summary: "${words(12)}"`, `every: {calendar: ${6 + (n % 30)} months}`,
      `torque: [{at: bolt, value: ${10 + (n % 90)} N·m}]`, "---", `${words(30)}.`];
    for (let stage = 1; stage <= 5; stage += 1) {
      lines.push("", `## Stage ${stage} ${words(2)}`);
      for (let step = 1; step <= 8; step += 1) lines.push(`${step}. ${words(16)} with the ${8 + next(20)} mm socket. {takes ${1 + next(20)} min}`);
    }
    write(`guides/${systems[n % systems.length]}/job-${String(n).padStart(5, "0")}.md`, lines);
  }
  const first = Date.UTC(1990, 0, 1);
  for (let n = 0; n < entries; n += 1) {
    const day = new Date(first + Math.floor((n * 13000) / entries) * 864e5).toISOString().slice(0, 10);
    write(`log/${day.slice(0, 4)}/${day}-entry-${String(n).padStart(6, "0")}.md`, [
      "---", `date: ${day}`, ...(n % 3 ? [`jobs: [job-${String(next(guides)).padStart(5, "0")}]`] : [`work: ["${words(6)}"]`]),
      `parts: [{item: part-${next(600)}, qty: 1}]`, ...(n % 5 ? [] : [`findings: [{what: "${words(8)}", grade: good}]`]), "---", `${words(45)}.`,
    ]);
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) bigBook(process.argv[2], Number(process.argv[3]), Number(process.argv[4]));
