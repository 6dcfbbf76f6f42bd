// What was seen on a plant, in a tap or two: roots, spikes, flowers, leaves tapped on a drawing of those it has, a sample of the reservoir, a
// note, a photo. Each is kept at once and can be taken back in the same place.
import { newId } from "./queue.js";
import { readCm, readEc, readLevel, readPH, show, units } from "./numbers.js";
import { make, say } from "./words.js";

const mostPhotoBytes = 40 * 1024 * 1024;

export function openSeen(dialog, bench) {
  draw(dialog, bench);
  dialog.showModal();
  dialog.querySelector("h2").focus();
}

function draw(dialog, bench) {
  const stop = bench.stop();
  const redraw = async (work, forget = []) => {
    await work;
    // Fields that were typed into stay as they are when something else was kept.
    const typed = Object.fromEntries([...dialog.querySelectorAll("input[id]:not([type=file]), textarea[id]")].filter(field => field.value).map(field => [field.id, field.value]));
    draw(dialog, bench);
    for (const [id, value] of Object.entries(typed)) if (!forget.includes(id) && document.getElementById(id)) document.getElementById(id).value = value;
  };
  const keep = (list, words, forget) => redraw(bench.keep(list, words), forget);
  dialog.replaceChildren(
    make("h2", { id: "seen-title", tabindex: "-1" }, say("SeenTitle", stop.number)),
    kept(bench, redraw),
    quick(stop, bench, keep),
    leaves(stop, bench, keep),
    sample(stop, bench, keep),
    note(stop, bench, keep),
    photo(stop, bench, keep),
    make("div", { class: "acts" }, make("button", { class: "act wide", type: "button", on: { click: () => { dialog.close(); dialog.replaceChildren(); } } }, say("Close"))));
}

function button(words, click, quiet = true) {
  return make("button", { class: quiet ? "act quiet" : "act", type: "button", on: { click } }, words);
}

function kept(bench, redraw) {
  const list = bench.entries();
  return list.length === 0 ? "" : make("ul", { class: "plain kept", role: "status" }, ...list.map(entry => make("li", {}, make("span", {}, `✓ ${entry.words}`),
    entry.kind === "photo" && entry.state === "sent" ? null : button(say("Undo"), () => redraw(bench.undo(bench.idOf(entry)))))));
}

function quick(stop, bench, keep) {
  const newest = [...stop.growths].sort((a, b) => b.number - a.number);
  const growing = newest[0];
  const spikes = stop.growths.flatMap(growth => growth.spikes.map(spike => ({ ...spike, growth })));
  const coming = spikes.find(spike => !spike.open), open = spikes.find(spike => spike.open && !spike.over);
  const on = newest.length < 2 ? null : make("select", { id: "on-growth" }, ...newest.map(growth => make("option", { value: growth.id }, growth.words)));
  const growth = () => newest.find(each => each.id === (on?.value ?? growing?.id));
  const cm = make("input", { id: "spike-cm", class: "short", inputmode: "decimal", autocomplete: "off" });
  const wrong = make("p", { class: "wrong", role: "alert", hidden: true });
  const length = () => {
    const { value, wrong: key } = readCm(cm.value);
    wrong.hidden = !key;
    wrong.textContent = key ? say(key, key === "NotNumber" ? say("SpikeCm") : cm.value) : "";
    return key ? undefined : value === null ? null : value * 10;
  };
  const sized = mm => mm === null ? "" : `${show(mm / 10, 1)} cm`;
  return make("section", {},
    make("div", { class: "acts" },
      button(say("NewRoots"), () => keep([bench.fact("roots.seen", stop.id, { growthId: growth()?.id ?? null, count: null })], say("NewRootsKept"))),
      growing ? button(say("NewLeaf"), () => {
        const at = growth();
        const position = Math.max(0, ...at.leaves.map(leaf => leaf.position)) + 1;
        return keep([bench.fact("leaf.seen", stop.id, { growthId: at.id, leafId: newId(), position, thereOnArrival: false })], say("NewLeafKept", at.words));
      }) : null,
      stop.habit === "Sympodial" || !growing ? button(say("NewGrowth"), () => {
        const number = Math.max(0, ...stop.growths.map(each => each.number)) + 1;
        const form = growing?.form ?? (stop.habit === "Monopodial" ? "Stem" : "Fan");
        const entry = bench.fact("growth.seen", stop.id, { growthId: newId(), number, form, thereOnArrival: false });
        entry.growthWords = growing?.words.replace(/\d+$/, number) ?? String(number);
        return keep([entry], say("NewGrowthKept"));
      }) : null,
      coming ? button(say("FirstFlower"), () => keep([bench.fact("bloom.opened", stop.id, { spikeId: coming.id })], say("FirstFlowerKept"))) : null,
      open ? button(say("FlowersOver"), () => keep([bench.fact("bloom.over", stop.id, { spikeId: open.id })], say("FlowersOverKept"))) : null),
    on ? make("div", { class: "field" }, make("label", { for: "on-growth" }, say("OnGrowth")), on) : null,
    growing ? make("div", { class: "field spike" }, make("label", { for: "spike-cm" }, `${say("Spike")}: ${say("SpikeCm")}`), cm,
      coming ? button(say("SpikeMeasure"), () => {
        const mm = length();
        if (mm === undefined || mm === null) return;
        keep([bench.fact("spike.measured", stop.id, { spikeId: coming.id, lengthMillimetres: mm, buds: null })], say("SpikeMeasureKept", sized(mm)), ["spike-cm"]);
      }) : null,
      button(say("SpikeNew"), () => {
        const mm = length();
        if (mm === undefined) return;
        keep([bench.fact("spike.seen", stop.id, { growthId: growth().id, spikeId: newId(), lengthMillimetres: mm })], say("SpikeNewKept", sized(mm)).trim(), ["spike-cm"]);
      }), wrong) : null);
}

// A drawing made of buttons: each growth a stem with its living leaves, the oldest lowest, left and right by turns.
function leaves(stop, bench, keep) {
  const grown = [...stop.growths].filter(growth => growth.leaves.length > 0).sort((a, b) => a.number - b.number);
  if (grown.length === 0) return "";
  const choice = make("div", { class: "leaf-choice", role: "group", hidden: true });
  const choose = (growth, leaf, pressed) => {
    for (const each of choice.parentElement.querySelectorAll(".leaf")) each.setAttribute("aria-pressed", String(each === pressed));
    const name = say("LeafName", growth.words, leaf.position);
    const cause = make("select", { id: "leaf-cause" }, ...["Age", "Shed", "Rot", "Pest", "Broken", "Cold", "Sun", "Unknown"].map(each => make("option", { value: each, selected: each === "Unknown" }, say(`Loss${each}`))));
    choice.setAttribute("aria-label", name);
    choice.hidden = false;
    choice.replaceChildren(make("b", {}, name),
      make("div", { class: "acts" },
        button(say("LeafYellow"), () => {
          const entry = bench.fact("leaf.marked", stop.id, { leafId: leaf.id, sign: "Yellowing", part: "Whole", note: null });
          entry.signWords = say("LeafYellow").toLowerCase();
          keep([entry], say("LeafYellowKept", name));
        }),
        button(say("LeafLost"), () => keep([bench.fact("leaf.lost", stop.id, { leafId: leaf.id, cause: cause.value, note: null })], say("LeafLostKept", name))),
        make("a", { class: "act quiet", href: `/plants/${stop.number}/causes?leaf=${leaf.id}` }, say("LeafToCauses"))),
      make("div", { class: "field" }, make("label", { for: "leaf-cause" }, say("LeafCause")), cause));
  };
  return make("section", {}, make("h3", {}, say("Leaves")), make("p", { class: "hint" }, say("LeavesHint")),
    make("div", { class: "growths" }, ...grown.map(growth => make("div", { class: `growth ${growth.form.toLowerCase()}` },
      make("ol", { class: "plain" }, ...[...growth.leaves].sort((a, b) => b.position - a.position).map(leaf => make("li", { class: leaf.position % 2 ? "left" : "right" },
        make("button", { class: `leaf${leaf.sign ? " marked" : ""}`, type: "button", "aria-pressed": "false", "aria-label": `${say("LeafName", growth.words, leaf.position)}${leaf.sign ? `, ${leaf.sign}` : ""}`, on: { click: event => choose(growth, leaf, event.currentTarget) } },
          make("span", {}, `${leaf.sign ? "▲ " : ""}${leaf.position}`))))),
      make("span", { class: "growth-name" }, growth.words)))),
    choice);
}

function sample(stop, bench, keep) {
  const fields = [["ec", "Ec", readEc, units.ecDigits], ["ph", "PH", readPH, 1], ["level", "Level", readLevel, 0]].map(([id, key, read, digits]) => ({
    id, key, read, digits,
    input: make("input", { class: "key", id: `sample-${id}`, inputmode: "decimal", autocomplete: "off", "aria-describedby": `sample-${id}-wrong` }),
    wrong: make("div", { class: "wrong", id: `sample-${id}-wrong`, role: "alert", hidden: true }),
  }));
  const check = (field, sure) => {
    const result = field.read(field.input.value, sure);
    field.input.setAttribute("aria-invalid", String(!!result.wrong));
    field.wrong.hidden = !result.wrong;
    if (result.wrong) {
      const meant = result.meant === undefined ? null : show(result.meant, field.digits);
      field.wrong.replaceChildren(make("span", {}, say(result.wrong, result.wrong === "NotNumber" ? say(field.key, units.ec) : field.input.value, meant ?? show(50000 * units.ecFactor), units.ec)),
        ...(meant === null ? [] : [" ", button(say("Take", meant), () => { field.input.value = meant; check(field, true); field.input.focus(); })]));
    }
    return result;
  };
  const empty = make("p", { class: "wrong", role: "alert", hidden: true }, say("SampleEmpty"));
  return make("section", {}, make("h3", {}, say("Sample")), make("p", { class: "hint" }, say("SampleHint")),
    make("div", { class: "grid-3" }, ...fields.map(field => make("div", { class: "field" }, make("label", { for: field.input.id }, say(field.key, units.ec)), field.input, field.wrong))),
    empty,
    button(say("SampleKeep"), () => {
      // What was taken from an offer, or typed again as it was, is meant.
      const results = fields.map(field => check(field, field.asked === field.input.value));
      for (const field of fields) field.asked = field.input.value;
      empty.hidden = results.some(result => result.wrong || result.value !== null);
      if (results.some(result => result.wrong) || !empty.hidden) return;
      const [ec, ph, level] = results.map(result => result.value);
      const words = [ec !== null ? `EC ${show(ec)}${units.ec === "mS/cm" ? "" : ` ${units.ec}`}` : "", ph !== null ? `pH ${show(ph)}` : "", level !== null ? `${show(level)} %` : ""].filter(Boolean).join(", ");
      keep([bench.fact("reading.taken", stop.id, {
        readingId: newId(), of: "Reservoir", from: "Typed", potId: stop.potId,
        ecMicrosiemensPerCm: ec === null ? null : Math.round(ec / units.ecFactor * 1e3) / 1e3, pH: ph, levelShare: level === null ? null : level / 100,
      })], say("SampleKept", words), fields.map(field => field.input.id));
    }));
}

function note(stop, bench, keep) {
  const text = make("textarea", { id: "note-text", rows: 2, maxlength: 2000 });
  return make("section", {}, make("div", { class: "field" }, make("label", { for: "note-text" }, say("Note")), text),
    button(say("NoteKeep"), () => {
      if (text.value.trim()) keep([bench.fact("plant.noted", stop.id, { text: text.value.trim() })], `${say("NoteKept")}: ${text.value.trim().slice(0, 40)}`, ["note-text"]);
    }));
}

function photo(stop, bench, keep) {
  const wrong = make("p", { class: "wrong", role: "alert", hidden: true }, say("PhotoLarge"));
  const input = make("input", { type: "file", id: "photo", accept: "image/*", capture: "environment", multiple: true, on: { change: async () => {
    const files = [...input.files];
    wrong.hidden = files.every(file => file.size <= mostPhotoBytes);
    if (!wrong.hidden || files.length === 0) return;
    // Bytes, not a handle to a file: the picture must be there when the browser was closed in between.
    const list = await Promise.all(files.map(async file => ({ kind: "photo", plantId: stop.id, blob: await file.arrayBuffer(), photo: { id: newId(), takenAt: bench.minute(), type: file.type } })));
    keep(list, say("PhotoKept"));
  } } });
  return make("section", {}, make("div", { class: "field" }, make("label", { for: "photo" }, say("Photo")), input, wrong));
}
