#pragma once
#include <string_view>

/// What every HTML sheet carries: its look, and the script that only looks up, counts down and saves.
namespace patchwright::sheet {

inline constexpr std::string_view html_style = R"css(
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 62rem; padding: .6rem; background: #fff; color: #000;
  font: 1.05rem/1.35 "DejaVu Sans", Verdana, sans-serif; }
h1 { font-size: 1.35rem; margin: .2rem 0; } h2 { font-size: 1.15rem; margin: 1rem 0 .3rem; border-bottom: .12rem solid #000; }
h3 { font-size: 1.05rem; margin: .7rem 0 .2rem; }
p { margin: .35rem 0; } ul { margin: .35rem 0; padding-left: 1.2rem; }
.strong { font-weight: bold; } .banner { border: .12rem solid #000; padding: .2rem .5rem; font-weight: bold; }
.subject { font-weight: bold; } .sheet { margin-bottom: 2rem; }
.fields { display: grid; grid-template-columns: repeat(auto-fill, minmax(10rem, 1fr)); gap: .3rem .6rem; margin: .4rem 0; }
.field { min-width: 0; overflow-wrap: anywhere; } .field span { display: block; font-size: .85rem; }
.field.arm { border: .15rem solid #000; padding: .2rem .4rem; } .field.arm b { font-size: 1.5rem; line-height: 1.15; }
input { font: inherit; width: 100%; min-height: 2.4rem; border: 0; border-bottom: .1rem solid #000; background: #fff; color: #000; border-radius: 0; }
input[type=checkbox] { width: 1.5rem; height: 1.5rem; min-height: 0; margin: 0 .5rem 0 0; flex: none; }
.ticks label { display: flex; align-items: center; padding: .25rem 0; min-height: 2.2rem; }
.wide { overflow-x: auto; } table { border-collapse: collapse; margin: .4rem 0; width: 100%; }
caption { text-align: left; font-weight: bold; padding: .2rem 0; }
th, td { text-align: left; padding: .15rem .5rem .15rem 0; border-bottom: .06rem solid #777; vertical-align: top; }
th { font-size: .85rem; } .right { text-align: right; } td.right { white-space: nowrap; } tr.total td { border-top: .12rem solid #000; font-weight: bold; }
table.strong td { font-weight: bold; font-size: 1.1rem; }
td input { min-width: 4rem; }
.card { border: .15rem solid #000; padding: .4rem .6rem; margin: .8rem 0; }
.card > h3 { margin-top: 0; font-size: 1.3rem; }
.columns { display: flex; flex-wrap: wrap; gap: 1rem; } .columns > div { flex: 1 1 20rem; min-width: 0; }
svg { max-width: 100%; height: auto; } .caution b::before { content: "\26A0  "; }
.live { border: .15rem dashed #000; padding: .4rem .6rem; margin: .6rem 0; }
.live output { display: block; font-size: 1.35rem; font-weight: bold; } .live .late { background: #000; color: #fff; padding: 0 .3rem; }
.save button { font: inherit; font-weight: bold; font-size: 1.2rem; padding: .7rem 1.2rem; border: .15rem solid #000; background: #fff; color: #000; }
.source { font-size: .85rem; }
.jumps, .days { display: flex; flex-wrap: wrap; gap: .3rem; padding: .3rem 0; background: #fff; }
.jumps { position: sticky; top: 0; z-index: 1; }
.jumps a, .days a { border: .12rem solid #000; padding: .45rem .6rem; color: #000; font-weight: bold; text-decoration: none; }
.card, h2 { scroll-margin-top: 6.5rem; } .name { white-space: nowrap; }
@media screen and (max-width: 40rem) {
  table.strong thead { display: none; } table.strong tr { display: grid; grid-template-columns: repeat(3, 1fr); gap: .1rem .6rem; padding: .3rem 0; border-bottom: .15rem solid #000; }
  table.strong td { border: 0; padding: 0; text-align: left; } table.strong td::before { content: attr(data-title); display: block; font-size: .8rem; font-weight: normal; }
  table.strong td:first-child { grid-column: 1 / -1; font-size: 1.3rem; } table.strong td:first-child::before { content: none; }
}
@media print {
  @page { margin: 10mm; }
  html { font-size: 7pt; } body { max-width: none; padding: 0; font-size: 1rem; line-height: 1.2; } .live, .save, .jumps, .days { display: none !important; }
  h2 { margin: .4rem 0 .15rem; break-after: avoid; } .sheet { margin: 0; } .sheet + .sheet { break-before: page; } .card, .caution, tr, svg { break-inside: avoid; }
  .break { break-before: page; } input { min-height: 1.3rem; } .ticks { columns: 3; } .card .ticks { columns: 2; } .ticks label { min-height: 0; padding: .05rem 0; break-inside: avoid; }
  input[type=checkbox] { width: .9rem; height: .9rem; } .wide { overflow: visible; break-inside: avoid; } .halves { columns: 2; break-inside: auto; } .field.arm b { font-size: 1.35em; }
  .fields { grid-template-columns: repeat(6, 1fr); margin: .2rem 0; } .card .fields { grid-template-columns: repeat(4, 1fr); }
  .card { margin: .4rem 0; } table { margin: .2rem 0; } th, td { padding: .04rem .5rem .04rem 0; } td.right, th.right { padding-right: .9rem; } p, ul { margin: .2rem 0; } svg { max-height: 18mm; }
}
)css";

/// Rule of the tables: between two rows the one that is safer. Warmer for what must be over by then, colder for what
/// may not come before; of two tables the shorter limit.
inline constexpr std::string_view html_script = R"js(
"use strict";
(() => {
const minutes = n => n < 60 ? n + " min" : Math.floor(n / 60) + " h" + (n % 60 ? " " + String(n % 60).padStart(2, "0") + " min" : "");
const clock = n => { n = ((n % 1440) + 1440) % 1440; return String(Math.floor(n / 60)).padStart(2, "0") + ":" + String(n % 60).padStart(2, "0"); };
const value = box => { const text = box.value.trim().replace(",", "."); return text === "" ? NaN : Number(text); };
const key = "patchwright " + document.title + " " + document.body.dataset.content;
function look(limits, pipe, resin, air) {
  const found = { say: [] };
  if (pipe < limits.least) return { say: ["Pipe colder than the resin allows: do not mix."] };
  const colder = limits.pipes.filter(r => r.pipe <= pipe), warmer = limits.pipes.filter(r => r.pipe >= pipe);
  if (!colder.length) return { say: ["Pipe colder than the table: do not mix."] };
  found.deflate = colder[colder.length - 1].deflate;
  if (!warmer.length || !warmer[0].inflate) found.say.push("Pipe warmer than the table: do not mix.");
  if (limits.airs.every(r => r.resin > resin) || limits.airs.every(r => r.air > air)) found.say.push("Resin or air colder than the table: do not mix.");
  const airs = limits.airs.filter(r => r.resin >= resin && r.air >= air);
  if (!airs.length) found.say.push("Resin or air warmer than the table: do not mix.");
  if (found.say.length) return { say: found.say };
  const row = airs.reduce((a, b) => b.inflate > a.inflate ? b : a);
  found.pour = row.pour;
  found.inflate = Math.min(row.inflate, warmer[0].inflate);
  found.gel = warmer[0].gel;
  return found;
}
for (const card of document.querySelectorAll("[data-limits]")) {
  const limits = JSON.parse(card.dataset.limits), live = card.querySelector(".live"), out = live.querySelector("output");
  const box = name => live.querySelector("[data-live=" + name + "]");
  live.hidden = false;
  const show = () => {
    const pipe = value(box("pipe")), resin = value(box("resin")), air = value(box("air")), mixed = box("mixed").value;
    out.textContent = "";
    const say = (text, late) => { const line = document.createElement("div"); line.textContent = text; if (late) line.className = "late"; out.append(line); };
    if ([pipe, resin, air].some(Number.isNaN)) return say("Measure pipe, resin and air.");
    const found = look(limits, pipe, resin, air);
    if (found.say.length) return found.say.forEach(text => say(text, true));
    if (!mixed) { say("From mixing: poured by " + minutes(found.pour)); say("Inflated by " + minutes(found.inflate)); say("Gels, from then hold " + minutes(found.gel)); return say("Deflate, not before " + minutes(found.deflate)); }
    const at = Number(mixed.slice(0, 2)) * 60 + Number(mixed.slice(3, 5)), time = new Date();
    let gone = time.getHours() * 60 + time.getMinutes() + time.getSeconds() / 60 - at;
    if (gone < -720) gone += 1440;
    const line = (word, limit, wait) => { const left = limit - gone;
      say(word + " " + clock(at + limit) + (gone < 0 ? "" : left > 0 ? ", " + minutes(wait ? Math.ceil(left) : Math.floor(left)) + (wait ? " to wait" : " left") : wait ? ", reached" : ", OVER"), !wait && gone >= 0 && left <= 0 && !box("inflated").checked); };
    line("Poured by", found.pour, false); line("Inflated by", found.inflate, false); line("Gels, from then hold", found.gel, true); line("Deflate, not before", found.deflate, true);
  };
  live.addEventListener("input", show);
  setInterval(show, 1000);
  show();
}
const boxes = [...document.querySelectorAll("input")];
try {
  const kept = JSON.parse(localStorage.getItem(key) || "[]");
  if (kept.length === boxes.length) boxes.forEach((b, i) => b.type === "checkbox" ? b.checked = kept[i] : b.value = kept[i]);
} catch (error) { /* a browser that keeps nothing shows an empty sheet */ }
document.addEventListener("input", () => {
  try { localStorage.setItem(key, JSON.stringify(boxes.map(b => b.type === "checkbox" ? b.checked : b.value))); } catch (error) { /* as above */ }
});
// By label; of several boxes with one label the second is "... (2)", whether or not the first was filled in.
const named = (list) => { const count = new Map(); return list.filter(b => b.dataset.label).map(b => {
  const label = b.dataset.label, n = (count.get(label) || 0) + 1; count.set(label, n); return [n > 1 ? label + " (" + n + ")" : label, b]; }); };
const noted = (list) => Object.fromEntries(named(list.filter(b => b.type !== "checkbox")).filter(([, b]) => b.value).map(([label, b]) => [label, b.value]));
const ticked = (list) => named(list.filter(b => b.type === "checkbox")).filter(([, b]) => b.checked).map(([label]) => label);
// Who opens the page on a later day stands at that day.
const now = new Date(), date = now.getFullYear() + "-" + String(now.getMonth() + 1).padStart(2, "0") + "-" + String(now.getDate()).padStart(2, "0");
const today = [...document.querySelectorAll(".sheet")].findIndex(s => s.dataset.subject.includes(date));
if (today > 0 && !location.hash) document.querySelectorAll(".sheet")[today].scrollIntoView();
const save = document.querySelector(".save");
if (save) {
  save.hidden = false;
  save.querySelector("button").addEventListener("click", () => {
    const record = { patchwright_record: 1, job: document.body.dataset.reference, sheets: [], patches: [] };
    const inside = new Set();
    for (const card of document.querySelectorAll("[data-limits]")) {
      const own = [...card.querySelectorAll("input")], unit = JSON.parse(card.dataset.limits).unit, entry = { id: card.dataset.patch };
      own.forEach(b => inside.add(b));
      for (const [name, name_in_file] of [["pipe", "pipe_temperature"], ["resin", "resin_temperature"], ["air", "air_temperature"]]) {
        const text = card.querySelector("[data-live=" + name + "]").value.trim().replace(",", ".");
        if (text) entry[name_in_file] = text + " " + unit;
      }
      const mixed = card.querySelector("[data-live=mixed]").value;
      if (mixed) entry.mixed_at = mixed;
      entry.noted = noted(own);
      entry.ticked = ticked(own);
      record.patches.push(entry);
    }
    for (const sheet of document.querySelectorAll(".sheet")) {
      const rest = [...sheet.querySelectorAll("input")].filter(b => !inside.has(b));
      record.sheets.push({ kind: sheet.dataset.kind, subject: sheet.dataset.subject, noted: noted(rest), ticked: ticked(rest) });
    }
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([JSON.stringify(record, null, 2) + "\n"], { type: "application/json" }));
    link.download = "record.json";
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  });
}
})();
)js";

}  // namespace patchwright::sheet
