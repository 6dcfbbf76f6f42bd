// What was entered and is not yet written down waits in the browser's own database, in the order it was entered, each with the id under which
// the server keeps it once, however often it is sent.
const name = "rootwater-round";
let opening = null;

function open() {
  opening ??= new Promise((done, failed) => {
    const asked = indexedDB.open(name, 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("entries", { keyPath: "sequence" });
      asked.result.createObjectStore("counts");
    };
    asked.onsuccess = () => {
      // Another tab with a newer page may have to change the stores.
      asked.result.onversionchange = () => asked.result.close();
      done(asked.result);
    };
    asked.onerror = () => failed(asked.error);
  });
  return opening;
}

async function within(stores, mode, work) {
  const database = await open();
  return new Promise((done, failed) => {
    const transaction = database.transaction(stores, mode, { durability: "strict" });
    let result;
    transaction.oncomplete = () => done(result);
    transaction.onerror = transaction.onabort = () => failed(transaction.error);
    work(transaction, value => { result = value; });
  });
}

// UUIDv7 (RFC 9562, section 5.7): 48 bits of milliseconds, 12 bits that count within one, 62 of chance.
let last = 0, within7 = 0;
export function newId() {
  let now = Date.now();
  if (now <= last) {
    now = last;
    if (++within7 > 0xfff) { now = ++last; within7 = 0; }
  } else {
    within7 = crypto.getRandomValues(new Uint16Array(1))[0] & 0x7ff;
  }
  last = now;
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  for (let i = 0; i < 6; i++) bytes[i] = Math.floor(now / 2 ** (8 * (5 - i))) & 0xff;
  bytes[6] = 0x70 | (within7 >> 8);
  bytes[7] = within7 & 0xff;
  bytes[8] = 0x80 | (bytes[8] & 0x3f);
  const hex = [...bytes].map(byte => byte.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

// Adds entries in order, all or none; each gets the next number of this device's own count.
export function add(entries) {
  return within(["entries", "counts"], "readwrite", (transaction, give) => {
    const counts = transaction.objectStore("counts");
    const store = transaction.objectStore("entries");
    const asked = counts.get("sequence");
    asked.onsuccess = () => {
      let sequence = asked.result ?? 0;
      give(entries.map(entry => {
        const row = { state: "waiting", made: Date.now(), ...entry, sequence: ++sequence };
        store.add(row);
        return row;
      }));
      counts.put(sequence, "sequence");
    };
  });
}

export function all() {
  return within(["entries"], "readonly", (transaction, give) => {
    const asked = transaction.objectStore("entries").getAll();
    asked.onsuccess = () => give(asked.result);
  });
}

export function change(sequences, how) {
  return within(["entries"], "readwrite", transaction => {
    const store = transaction.objectStore("entries");
    for (const sequence of sequences) {
      const asked = store.get(sequence);
      asked.onsuccess = () => {
        if (!asked.result) return;
        const next = how(asked.result);
        if (next) store.put(next);
        else store.delete(sequence);
      };
    }
  });
}

export function remove(sequences) {
  return change(sequences, () => null);
}

// Made once for this browser, so that the ledger can tell two phones apart.
export async function device() {
  return within(["counts"], "readwrite", (transaction, give) => {
    const counts = transaction.objectStore("counts");
    const asked = counts.get("device");
    asked.onsuccess = () => {
      const known = asked.result ?? `phone ${newId().slice(-4)}`;
      if (!asked.result) counts.put(known, "device");
      give(known);
    };
  });
}

const most = 40;

// Sends what waits, in order, as long as there is an answer. One tab at a time; sent twice it is kept once.
// Gives { sent, stopped } with stopped one of null, "network", "signin", "busy".
export async function send(onProgress) {
  return navigator.locks.request("rootwater-send", { ifAvailable: true }, async lock => {
    if (!lock) return { sent: 0, stopped: "busy" };
    let sent = 0;
    const from = await device();
    for (;;) {
      const waiting = (await all()).filter(entry => entry.state === "waiting");
      if (waiting.length === 0) return { sent, stopped: null };
      onProgress?.(counted(waiting));
      const photos = waiting.findIndex(entry => entry.kind === "photo");
      const batch = waiting[0].kind === "photo" ? [waiting[0]] : waiting.slice(0, Math.min(most, photos < 0 ? waiting.length : photos));
      let answer = await post(batch, from);
      if (answer.refused && batch.length > 1) {
        // All or none: to find the one that cannot be, each goes alone.
        for (const entry of batch) {
          answer = await post([entry], from);
          if (answer.stopped) return { sent, stopped: answer.stopped };
          await settle([entry], answer);
          if (!answer.refused) sent += counted([entry]);
        }
        continue;
      }
      if (answer.stopped) return { sent, stopped: answer.stopped };
      await settle(batch, answer);
      if (!answer.refused) sent += counted(batch);
    }
  });
}

// That a walk was begun is nothing the grower entered.
export function counted(entries) {
  return entries.filter(entry => !entry.quiet).length;
}

function settle(batch, answer) {
  return change(batch.map(entry => entry.sequence), entry => answer.refused
    ? { ...entry, state: "refused", reason: answer.refused, twice: answer.twice }
    : { ...entry, state: "sent", blob: undefined });
}

async function post(batch, from) {
  const photo = batch[0].kind === "photo" ? batch[0] : null;
  let answer;
  try {
    answer = await fetch(photo ? "/api/photos" : `/api/facts?device=${encodeURIComponent(from)}`, {
      method: "POST",
      headers: photo ? { Accept: "application/json" } : { "Content-Type": "application/json", Accept: "application/json" },
      body: photo ? form(photo) : JSON.stringify(batch.map(entry => ({ ...entry.fact, sequence: entry.sequence }))),
      signal: AbortSignal.timeout(photo ? 120_000 : 20_000),
    });
  } catch {
    return { stopped: "network" };
  }
  if (answer.ok) return {};
  if (answer.status === 401) return { stopped: "signin" };
  const problem = await answer.json().catch(() => ({}));
  // An id that stands for something else will never be taken; anything else the server has trouble with may pass.
  if (answer.status >= 500 && problem.fault !== "Conflict") return { stopped: "network" };
  if (answer.status === 429 || answer.status === 408) return { stopped: "network" };
  const twice = problem.problems?.find(each => each.field === "again");
  return twice ? { refused: twice.accepted, twice: true } : { refused: problem.detail || problem.title || `HTTP ${answer.status}` };
}

function form(photo) {
  const data = new FormData();
  data.append("plantId", photo.plantId);
  data.append("id", photo.photo.id);
  data.append("takenAt", photo.photo.takenAt);
  data.append("file", new Blob([photo.blob], { type: photo.photo.type || "image/jpeg" }), "photo.jpg");
  return data;
}

// Takes an entry back before it has left this phone. False when it is on its way or gone: then it needs a fact that takes it back.
export async function takeBack(sequence) {
  return navigator.locks.request("rootwater-send", { ifAvailable: true }, async lock => {
    if (!lock) return false;
    const entry = (await all()).find(each => each.sequence === sequence);
    if (!entry || entry.state === "sent") return false;
    await remove([sequence]);
    return true;
  });
}
