// The round on the phone. The server draws the rows; this script ticks them, keeps what is entered until it is written down, and says so.
import { add, all, change, counted, newId, remove, send, takeBack } from "./queue.js";
import { learnUnits, readMillilitres, showEc, showLitres, units } from "./numbers.js";
import { openSeen } from "./seen.js";
import { learn, make, say } from "./words.js";

const page = document.getElementById("round");
const byId = id => document.getElementById(id);
const net = byId("net"), thumb = byId("thumb"), dialogs = { amount: byId("amount"), seen: byId("seen"), ask: byId("ask") };
let sheet = null;         // as the server last told it
let entries = [];         // waiting, refused, or sent and not yet in what the server told
let stops = new Map();    // sheet and entries together
let acted = -1000, roundId = null, current = null, order = "walk", online = true;

if (page) start();

async function start() {
  learn(page.dataset.words);
  readSheet();
  if ("serviceWorker" in navigator) navigator.serviceWorker.register("/round-worker.js", { scope: "/round" }).catch(() => {});
  navigator.storage?.persist?.().catch(() => {});
  try {
    entries = await all();
  } catch {
    net.textContent = say("NoStorage");
    net.classList.add("bad");
    return;
  }
  draw();
  page.addEventListener("click", onClick);
  byId("now-amount").addEventListener("click", () => askAmount(stops.get(current)));
  addEventListener("online", sync);
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") sync(); });
  setInterval(() => { if (entries.some(entry => entry.state === "waiting") || !online) sync(); }, 5000);
  if (!today()) net.textContent = say("OldSheet", sheet.asOf);
  await sync();
}

function readSheet() {
  sheet = JSON.parse(byId("sheet-data").textContent);
  learnUnits(sheet.units);
  // What is empty was left out, and a leaf is a list.
  for (const stop of sheet.stops) {
    stop.due ??= false;
    stop.states ??= [];
    stop.growths = (stop.growths ?? []).map(growth => ({ ...growth, leaves: (growth.leaves ?? []).map(([id, position, sign]) => ({ id: longId(id), position, sign: sign ?? null })), spikes: growth.spikes ?? [] }));
  }
}

// From base64url to the form ids have everywhere else.
function longId(short) {
  const hex = [...atob(short.replace(/-/g, "+").replace(/_/g, "/"))].map(each => each.charCodeAt(0).toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

// The bench's own clock, to the minute.
function minute() {
  const now = new Date();
  const of = zone => new Intl.DateTimeFormat("sv-SE", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit" }).format(now).replace(" ", "T");
  try {
    return of(sheet.zone);
  } catch {
    return of(undefined); // A zone this browser does not know: the phone's own.
  }
}

const today = () => minute().slice(0, 10) === sheet.asOf;

// --- what is entered -------------------------------------------------------------------------------------------------------------------

function fact(kind, plantId, payload, extra = {}) {
  return { kind: "fact", plantId, fact: { id: newId(), kind, subjectId: plantId, payload: { plantId, ...payload }, when: { minute: minute() }, ...extra } };
}

function begun() {
  if (roundId) return [];
  roundId = newId();
  return [{ kind: "fact", quiet: true, fact: { id: newId(), kind: "round.begun", subjectId: roundId, payload: { roundId, asOf: minute().slice(0, 10) }, when: { minute: minute() } } }];
}

async function keep(list, words) {
  entries.push(...await add(list));
  draw();
  if (words) tell(words, list.at(-1));
  sync();
}

function given(stop, what, canId, ml) {
  return fact("plant.given", stop.id, { roundId, what, canId: what === "Feed" ? canId : null, waterId: what === "Feed" ? null : stop.waterId ?? null, millilitres: ml });
}

async function give(stop, what = stop.what, canId = stop.canId, ml = stop.ml) {
  if (what === "Feed" && !canId) return askAmount(stop);
  const list = [...begun(), given(stop, what, canId, ml)];
  next(stop.id);
  await keep(list, `${stop.number}: ${doneWords({ what, ml, canId })}`);
}

async function skip(stop, reason) {
  const list = [...begun(), fact("plant.skipped", stop.id, { roundId, reason, note: null })];
  next(stop.id);
  await keep(list, `${stop.number}: ${say(reason === "StillFull" ? "DoneFull" : "DoneSkip")}`);
}

async function undo(id, plantId) {
  const entry = entries.find(each => idOf(each) === id);
  if (entry && await takeBack(entry.sequence)) {
    entries = entries.filter(each => each !== entry);
    draw();
  } else {
    await keep([fact("fact.undone", plantId, { factId: id, why: null, plantId: undefined }, { corrects: id })]);
  }
  current = plantId;
  draw();
  tell(`${stops.get(plantId)?.number ?? ""}: ${say("Undone")}`);
}

const idOf = entry => entry.kind === "photo" ? entry.photo.id : entry.fact.id;

// --- sheet and entries together ---------------------------------------------------------------------------------------------------------

function together() {
  stops = new Map(structuredClone(sheet.stops).map(stop => [stop.id, stop]));
  roundId = sheet.roundId ?? null;
  const undone = new Set(entries.filter(entry => entry.fact?.kind === "fact.undone").map(entry => entry.fact.payload.factId));
  for (const stop of stops.values()) if (stop.done && undone.has(stop.done.id)) stop.done = null;
  for (const entry of entries) {
    if (entry.state === "refused" || !entry.fact || undone.has(entry.fact.id)) continue;
    const { kind, payload } = entry.fact;
    if (kind === "round.begun" && payload.asOf >= sheet.asOf) roundId = payload.roundId;
    if (kind === "round.ended" && payload.roundId === roundId) roundId = null;
    const stop = stops.get(entry.plantId);
    if (stop) learnFact(stop, kind, payload, entry);
  }
}

function learnFact(stop, kind, payload, entry) {
  const growth = id => stop.growths.find(each => each.id === id);
  const spikes = () => stop.growths.flatMap(each => each.spikes);
  const leaf = id => stop.growths.flatMap(each => each.leaves).find(each => each.id === id);
  switch (kind) {
    case "plant.given": stop.done = { id: entry.fact.id, what: payload.what, ml: payload.millilitres, canId: payload.canId }; stop.due = true; break;
    case "plant.skipped": stop.done = { id: entry.fact.id, skip: payload.reason }; stop.due = true; break;
    case "plant.states": stop.states = payload.states; break;
    case "growth.seen": stop.growths.push({ id: payload.growthId, number: payload.number, form: payload.form, words: entry.growthWords ?? "", leaves: [], spikes: [] }); break;
    case "leaf.seen": growth(payload.growthId)?.leaves.push({ id: payload.leafId, position: payload.position, sign: null }); break;
    case "leaf.marked": if (leaf(payload.leafId)) leaf(payload.leafId).sign = entry.signWords ?? payload.sign; break;
    case "leaf.lost": for (const each of stop.growths) each.leaves = each.leaves.filter(one => one.id !== payload.leafId); break;
    case "spike.seen": growth(payload.growthId)?.spikes.push({ id: payload.spikeId, open: false, over: false }); break;
    case "bloom.opened": for (const spike of spikes()) if (spike.id === payload.spikeId) spike.open = true; break;
    case "bloom.over": for (const spike of spikes()) if (spike.id === payload.spikeId) spike.over = true; break;
  }
}

// --- drawing ----------------------------------------------------------------------------------------------------------------------------

const letterOf = id => sheet.cans.find(can => can.id === id)?.letter ?? "?";

function doneWords(done) {
  if (done.skip) return say(done.skip === "StillFull" ? "DoneFull" : "DoneSkip");
  if (done.what === "Feed") return say("DoneFed", done.ml, done.letter ?? letterOf(done.canId));
  return say(done.what === "Leach" ? "DoneLeach" : "DoneWater", done.ml);
}

function draw() {
  together();
  const rows = [...page.querySelectorAll("li.stop")];
  for (const row of rows) {
    const stop = stops.get(row.dataset.plant);
    if (!stop) continue;
    row.classList.toggle("done", !!stop.done);
    const after = row.querySelector("[data-after]");
    after.replaceChildren(...(stop.done ? [
      make("span", {}, `✓ ${doneWords(stop.done)}`),
      make("button", { class: "act quiet small", type: "button", "data-undo": stop.done.id, "aria-label": say("UndoOf", stop.number) }, say("Undo")),
    ] : []));
    row.querySelector(".pick").setAttribute("aria-current", String(row.dataset.plant === current));
  }
  const due = [...stops.values()].filter(stop => stop.due);
  for (const [key, count] of [["due", due.length], ["done", due.filter(stop => stop.done).length]]) {
    for (const place of page.querySelectorAll(`[data-count=${key}]`)) place.textContent = count;
  }
  for (const button of page.querySelectorAll("[data-all]")) button.hidden = tickable(button.closest("section")).length < 2;
  for (const button of page.querySelectorAll("[data-end]")) button.hidden = !roundId;
  for (const row of page.querySelectorAll("[data-proposal]")) row.hidden = stops.get(row.dataset.proposal)?.states.includes(row.dataset.state) === (row.dataset.begins === "true") || entries.some(entry => entry.refusal === `${row.dataset.proposal} ${row.dataset.state}`);
  drawOrder();
  drawThumb();
  drawRefused();
  drawNet();
}

// The stop the buttons at the thumb speak of shows why it is due.
function drawThumb() {
  if (!stops.get(current)) current = firstOpen()?.dataset.plant ?? page.querySelector("li.stop")?.dataset.plant ?? null;
  for (const pick of page.querySelectorAll(".pick")) pick.setAttribute("aria-current", String(pick.parentElement.dataset.plant === current));
  const stop = stops.get(current);
  thumb.classList.toggle("empty", !stop);
  if (!stop) return;
  byId("now-number").textContent = stop.number;
  const from = stop.what === "Feed" ? stop.canId ? say("OfCan", stop.canLetter) : say("GroupNone") : say(stop.what === "Leach" ? "LeachShort" : "PlainWater").toLowerCase();
  byId("now-amount").textContent = `${stop.ml} mL · ${from}`;
  const words = { Feed: "Given", PlainWater: "Watered", Leach: "Leached" };
  thumb.querySelector("[data-do=give]").textContent = say(words[stop.what]);
  for (const name of ["give", "full"]) thumb.querySelector(`[data-do=${name}]`).disabled = !!stop.done;
  thumb.querySelector("[data-do=seen]").disabled = false;
  byId("now-amount").disabled = !!stop.done;
}

function firstOpen(after = null) {
  const rows = [...page.querySelectorAll("#walk li.stop")];
  const from = after ? rows.findIndex(row => row.dataset.plant === after) + 1 : 0;
  const open = row => { const stop = stops.get(row.dataset.plant); return stop && !stop.done && row.dataset.plant !== after; };
  return rows.slice(from).find(open) ?? rows.find(open);
}

function next(done) {
  const row = firstOpen(done);
  current = row?.dataset.plant ?? done;
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  row?.scrollIntoView({ block: "nearest", behavior: calm ? "instant" : "smooth" });
}

// Rows are moved, not drawn anew: by place as the server sorted them, or by what is in the hand.
function drawOrder() {
  const walk = byId("walk");
  for (const button of page.querySelectorAll("[data-order]")) button.setAttribute("aria-pressed", String(button.dataset.order === order));
  if ((walk.dataset.order ?? "walk") === order) return;
  walk.dataset.order = order;
  if (order === "walk") {
    walk.replaceChildren(...walk.asServed);
    for (const [list, rows] of walk.rowsOf) list.replaceChildren(...rows);
    return;
  }
  walk.asServed = [...walk.children];
  walk.rowsOf = [...walk.querySelectorAll(".stops")].map(list => [list, [...list.children]]);
  const rows = walk.rowsOf.flatMap(([, list]) => list);
  const apart = new Set([...walk.querySelectorAll(".last li.stop")]);
  const groups = new Map();
  for (const row of rows) {
    const stop = stops.get(row.dataset.plant);
    const key = apart.has(row) ? null : stop.what === "Feed" ? stop.canLetter ?? "" : "W";
    if (key !== null) groups.set(key, [...groups.get(key) ?? [], row]);
  }
  const sections = [...groups].sort(([a], [b]) => a === "W" ? 1 : b === "W" ? -1 : a.localeCompare(b)).map(([key, list]) => make("section", { class: "sheet" },
    make("div", { class: "row-head" },
      make("h2", {}, key === "W" ? say("GroupWater") : key ? say("GroupCan", key) : say("GroupNone")),
      make("button", { class: "act quiet small", type: "button", "data-all": true }, document.querySelector("[data-all]")?.textContent ?? "")),
    make("ol", { class: "plain stops" }, ...list)));
  const last = walk.asServed.find(section => section.classList.contains("last"));
  walk.replaceChildren(...sections, ...(last ? [last] : []));
  for (const button of walk.querySelectorAll("[data-all]")) button.hidden = tickable(button.closest("section")).length < 2;
}

function tickable(section) {
  return [...section.querySelectorAll("li.stop")].map(row => stops.get(row.dataset.plant)).filter(stop => stop && !stop.done && (stop.what !== "Feed" || stop.canId));
}

// Says what was done to whoever cannot see it, and leaves its undo at the thumb.
function tell(words, entry) {
  byId("said").textContent = words;
  byId("last").replaceChildren(...(entry && entry.fact?.kind !== "fact.undone" && entry.plantId
    ? [make("button", { class: "plain-act", type: "button", "data-undo": idOf(entry), "data-of": entry.plantId }, say("UndoOf", stops.get(entry.plantId)?.number ?? ""))] : []));
}

// --- the line about the network --------------------------------------------------------------------------------------------------------

let lately = null; // what was sent last, said until something else is entered
function drawNet() {
  const waiting = counted(entries.filter(entry => entry.state === "waiting"));
  net.classList.toggle("bad", online !== true && (waiting > 0 || !online));
  if (sending) return;
  if (waiting > 0 && online === "signin") net.replaceChildren(make("a", { href: "/signin?back=/round" }, say("SignInToSend", waiting)));
  else if (!online) put(waiting === 0 ? say("NoNetworkQuiet") : waiting === 1 ? say("WaitingOne") : say("Waiting", waiting));
  else if (waiting > 0) put(""); // About to be sent: that there is no network is said when it is known.
  else if (lately) put(lately === 1 ? say("SentOne") : say("Sent", lately));
  else if (!today()) put(say("OldSheet", sheet.asOf));
  else put("");
}

// A live region speaks when its words change, and only then.
function put(words) {
  if (net.textContent !== words) net.textContent = words;
}

let sending = false, again = false;
async function sync() {
  if (sending) {
    again = true;
    return;
  }
  sending = true;
  const slow = setTimeout(() => { if (online === true) put(say("Sending", counted(entries.filter(entry => entry.state === "waiting")))); }, 1500);
  let result;
  do {
    again = false;
    result = await send(count => { if (count > 3) put(say("Sending", count)); }).catch(() => ({ sent: 0, stopped: "network" }));
    if (result.sent > 0) lately = (lately ?? 0) + result.sent;
    online = result.stopped === "network" ? false : result.stopped === "signin" ? "signin" : online;
    entries = await all();
  } while (again && !result.stopped);
  clearTimeout(slow);
  sending = false;
  if (!result.stopped) await refresh();
  draw();
}

// What the server tells now takes the place of what was shown; sent entries are then in it.
async function refresh() {
  const sent = entries.filter(entry => entry.state === "sent").map(entry => entry.sequence);
  if (sent.length === 0 && online === true && refresh.done) return;
  let text;
  try {
    const answer = await fetch("/round", { headers: { Accept: "text/html" }, cache: "no-cache", signal: AbortSignal.timeout(15_000) });
    if (answer.redirected) online = "signin";
    // The worker may have answered from what it keeps: the server's own answer carries its time.
    if (!answer.ok || answer.redirected || !await reached()) return;
    text = await answer.text();
  } catch {
    online = false;
    return;
  }
  const fresh = new DOMParser().parseFromString(text, "text/html").getElementById("sheet");
  if (!fresh) return;
  online = true;
  refresh.done = true;
  const focused = document.activeElement?.closest?.("li.stop")?.id;
  const open = [...page.querySelectorAll("#sheet > details[open]")].map(each => each.className);
  byId("sheet").replaceWith(document.adoptNode(fresh));
  for (const name of open) page.querySelector(`#sheet > details.${name.split(" ").pop()}`)?.setAttribute("open", "");
  readSheet();
  await remove(sent);
  entries = await all();
  if (focused) byId(focused)?.querySelector(".pick").focus({ preventScroll: true });
}

async function reached() {
  try {
    const answer = await fetch("/api/health", { cache: "no-store", signal: AbortSignal.timeout(5_000) });
    if (answer.status === 401) online = "signin";
    return answer.ok;
  } catch {
    online = false;
    return false;
  }
}

// --- refused ----------------------------------------------------------------------------------------------------------------------------

function drawRefused() {
  const stuck = entries.filter(entry => entry.state === "refused");
  const [twice, refused] = [stuck.filter(entry => entry.twice), stuck.filter(entry => !entry.twice)];
  const box = byId("refused");
  const key = stuck.map(entry => `${entry.sequence}${entry.reason}`).join();
  if (box.dataset.key === key) return;
  box.dataset.key = key;
  box.replaceChildren(...twice.length === 0 ? [] : [drawTwice(twice)], ...(refused.length === 0 ? [] : [make("section", { class: "notice", role: "alert" },
    make("b", {}, say("RefusedTitle", refused.length)),
    make("ul", { class: "plain" }, ...refused.map(entry => make("li", {},
      make("span", {}, say("RefusedOne", stops.get(entry.plantId)?.number ?? "", `${entry.words ?? entry.fact?.kind ?? say("Photo")}: ${entry.reason}`)),
      make("span", { class: "acts" },
        entry.fact ? make("button", { class: "act quiet small", type: "button", on: { click: () => mend(entry) } }, say("Mend")) : null,
        make("button", { class: "act quiet small", type: "button", on: { click: () => resend(entry) } }, say("SendAgain")),
        make("button", { class: "act quiet small", type: "button", on: { click: () => throwAway(entry) } }, say("ThrowAway")))))))]));
}

// Another device ticked the same plant on this walk: told twice, or given twice? Only the grower knows.
function drawTwice(twice) {
  return make("section", { class: "notice", role: "alert", id: "twice" },
    make("b", {}, say("TwiceTitle", twice.length)),
    make("ul", { class: "plain" }, ...twice.map(entry => make("li", {},
      make("span", {}, say("RefusedOne", stops.get(entry.plantId)?.number ?? "", entry.reason)),
      make("span", { class: "acts" },
        make("button", { class: "act quiet small", type: "button", on: { click: () => countOnce(entry) } }, say("TwiceOnce")),
        make("button", { class: "act quiet small", type: "button", on: { click: () => resend(entry, { ...entry.fact.payload, again: true }) } }, say("TwiceAgain")))))));
}

async function dropOne(entry) {
  await remove([entry.sequence]);
  entries = await all();
  draw();
}

// The other device's tick is the one that counts, and only a fresh sheet shows it.
async function countOnce(entry) {
  refresh.done = false;
  await dropOne(entry);
  sync();
}

async function resend(entry, payload = entry.fact?.payload) {
  await change([entry.sequence], row => ({ ...row, state: "waiting", reason: undefined, twice: undefined, ...(row.fact ? { fact: { ...row.fact, payload } } : {}) }));
  entries = await all();
  draw();
  sync();
}

function mend(entry) {
  const fields = Object.entries(entry.fact.payload).filter(([key, value]) => !/Id$/.test(key) && (typeof value === "number" || typeof value === "string" || value === null));
  const inputs = fields.map(([key, value]) => [key, typeof value === "number", make("input", { id: `mend-${key}`, value: value ?? "", inputmode: typeof value === "number" ? "decimal" : null, autocomplete: "off" })]);
  show(dialogs.ask, "MendTitle", [
    make("p", {}, entry.reason),
    ...inputs.map(([key, , input]) => make("div", { class: "field" }, make("label", { for: `mend-${key}` }, key), input)),
  ], [["SendAgain", () => {
    const payload = { ...entry.fact.payload };
    for (const [key, number, input] of inputs) payload[key] = input.value === "" ? null : number ? Number(input.value.replace(",", ".")) : input.value;
    resend(entry, payload);
  }]]);
}

function throwAway(entry) {
  show(dialogs.ask, "ThrowTitle", [make("p", {}, entry.words ?? ""), make("p", {}, say("ThrowMore"))], [["ThrowAway", () => { dropOne(entry); }]]);
}

// --- dialogs ----------------------------------------------------------------------------------------------------------------------------

// Opens a dialog with a title, its body and buttons; a handler that gives false keeps it open.
function show(dialog, title, body, actions) {
  const heading = make("h2", { id: `${dialog.id}-title`, tabindex: "-1" }, ...(Array.isArray(title) ? [say(...title)] : [say(title)]));
  dialog.replaceChildren(heading, ...body, make("div", { class: "acts" },
    ...actions.map(([key, handler, ...values], at) => make("button", { class: at === 0 ? "act" : "act quiet", type: "button", on: { click: async () => { if (await handler() !== false) dialog.close(); } } }, say(key, ...values))),
    make("button", { class: "act quiet", type: "button", on: { click: () => dialog.close() } }, say("Cancel"))));
  dialog.showModal();
  heading.focus();
}

function askAmount(stop) {
  if (!stop || stop.done) return;
  const choices = [...sheet.cans.map(can => ["Feed", can.id, say("FromCan", can.letter, showEc(can.ec), showLitres(can.litresLeft), units.ec, units.litres)]), ["PlainWater", null, say("PlainWater")], ["Leach", null, say("Leach")]];
  const chosen = choices.find(([what, can]) => what === stop.what && (what !== "Feed" || can === stop.canId));
  const radios = choices.map(([what, can, words], at) => make("label", { class: "choice" },
    make("input", { type: "radio", name: "what", value: at, checked: choices[at] === chosen }), make("span", {}, words)));
  const input = make("input", { class: "key", id: "ml", inputmode: "decimal", autocomplete: "off", value: stop.ml });
  const wrong = make("p", { class: "wrong", id: "ml-wrong", role: "alert", hidden: true });
  show(dialogs.amount, ["AmountTitle", stop.number], [
    make("fieldset", {}, make("legend", {}, say("What")), ...radios),
    make("div", { class: "field" }, make("label", { for: "ml" }, say("Millilitres")), input, wrong),
  ], [["Given", () => {
    const picked = dialogs.amount.querySelector("input[name=what]:checked");
    const ml = readMillilitres(input.value);
    const trouble = !picked ? say("ChooseCan") : ml.wrong ? say(ml.wrong) : null;
    wrong.hidden = !trouble;
    wrong.textContent = trouble ?? "";
    input.setAttribute("aria-invalid", String(!!ml.wrong));
    if (trouble) return false;
    const [what, can] = choices[picked.value];
    give(stop, what, can, ml.value);
    return true;
  }], ["SkipOther", () => { skip(stop, "Other"); }]]);
}

function askAll(section) {
  const list = tickable(section);
  const groups = new Map();
  for (const stop of list) {
    const key = stop.what === "Feed" ? say("GroupCan", stop.canLetter) : say(stop.what === "Leach" ? "Leach" : "PlainWater");
    groups.set(key, [...groups.get(key) ?? [], stop]);
  }
  show(dialogs.ask, ["AllTitle", section.querySelector("h2").textContent], [
    make("ul", {}, ...[...groups].map(([key, of]) => make("li", {}, `${key}: ${of.map(stop => `${stop.number} (${stop.ml} mL)`).join(", ")}`))),
  ], [["AllDo", async () => {
    const facts = [...begun()];
    for (const stop of list) facts.push(given(stop, stop.what, stop.canId, stop.ml));
    await keep(facts, say("AllDo", list.length));
    next(list.at(-1).id);
    draw();
  }, list.length]]);
}

function askEnd() {
  const left = [...stops.values()].filter(stop => stop.due && !stop.done);
  show(dialogs.ask, "EndTitle", [make("p", {}, say("EndMore", left.length))], [["EndDo", async () => {
    const list = left.map(stop => fact("plant.skipped", stop.id, { roundId, reason: "NotReached", note: null }));
    for (const entry of list) entry.quiet = true;
    await keep([...list, { kind: "fact", quiet: true, fact: { id: newId(), kind: "round.ended", subjectId: roundId, payload: { roundId, note: null }, when: { minute: minute() } } }]);
  }]]);
}

function answerProposal(row, yes) {
  const stop = stops.get(row.dataset.proposal);
  const state = row.dataset.state;
  const states = !yes ? stop.states : row.dataset.begins === "true" ? [...stop.states, state] : stop.states.filter(each => each !== state);
  // A refusal is a fact too: the states were looked at and left as they are.
  const entry = fact("plant.states", stop.id, { states });
  entry.refusal = yes ? undefined : `${stop.id} ${state}`;
  keep([entry], `${stop.number}: ${say(yes ? "Confirmed" : "Refused")}`);
}

function onClick(event) {
  const target = event.target.closest("button");
  if (!target) return;
  const stop = stops.get(current);
  if (target.matches(".pick")) {
    current = target.parentElement.dataset.plant;
    drawThumb();
  } else if (target.dataset.undo) {
    undo(target.dataset.undo, target.dataset.of ?? target.closest("li").dataset.plant);
  } else if (target.dataset.order) {
    order = target.dataset.order;
    drawOrder();
  } else if ("all" in target.dataset) askAll(target.closest("section"));
  else if ("end" in target.dataset) askEnd();
  else if (target.dataset.answer) answerProposal(target.closest("[data-proposal]"), target.dataset.answer === "yes");
  else if (!stop) return;
  else if (target.dataset.do === "give" || target.dataset.do === "full") {
    // A wet thumb taps twice: the second tap is not meant for the next plant.
    if (event.timeStamp - acted < 400) return;
    acted = event.timeStamp;
    if (target.dataset.do === "give") give(stop);
    else skip(stop, "StillFull");
  }
  else if (target.dataset.do === "seen") {
    openSeen(dialogs.seen, {
      stop: () => stops.get(stop.id), fact, minute,
      entries: () => entries.filter(entry => entry.plantId === stop.id && entry.words && entry.state !== "refused" && !entries.some(each => each.fact?.payload.factId === idOf(entry))),
      keep: (list, words) => { for (const entry of list) entry.words = words; return keep(list, `${stop.number}: ${words}`); },
      undo: id => undo(id, stop.id), idOf,
    });
  }
}
