// Numbers as a wet hand types them: comma or point, and the slips that are common, with what was likely meant.

// The reader's own scale of EC and volume; kept is always µS/cm and litres.
export let units = { ec: "mS/cm", ecFactor: 0.001, ecDigits: 2, litres: "L", litresFactor: 1 };
export function learnUnits(told) {
  units = told ?? units;
}

export const showEc = microsiemens => (microsiemens * units.ecFactor).toFixed(units.ecDigits);
export const showLitres = litres => (litres * units.litresFactor).toFixed(1);

// A number, NaN for what is none or could be two, null for nothing.
export function read(text) {
  const bare = text.trim().replace(/[ \u00a0]/g, "");
  if (bare === "") return null;
  if (!/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(bare)) return NaN;
  return Number(bare.replace(",", "."));
}

export function show(value, most = 2) {
  return String(Number(value.toFixed(most)));
}

// { value } as typed; { wrong, meant } where it cannot be or is unlikely. `sure` takes an unlikely but possible value as it stands.
export function readPH(text, sure = false) {
  const value = read(text);
  if (value === null) return { value };
  if (Number.isNaN(value)) return { wrong: "NotNumber" };
  if (value > 14 && value / 10 >= 3 && value / 10 <= 10) return { wrong: "PHMeant", meant: value / 10 };
  if (value < 0 || value > 14) return { wrong: "PHRange" };
  if (!sure && value >= 0.3 && value < 1) return { wrong: "PHMeant", meant: value * 10 };
  return { value };
}

// In the reader's scale. A pen that shows another (µS/cm, or mS/cm where ppm are meant), or a comma that was forgotten.
export function readEc(text, sure = false) {
  const value = read(text);
  if (value === null) return { value };
  if (Number.isNaN(value)) return { wrong: "NotNumber" };
  if (value < 0 || value > 50000 * Math.max(units.ecFactor, 1)) return { wrong: "EcRange" };
  if (units.ec !== "mS/cm") {
    if (value > 50000 * units.ecFactor) return { wrong: "EcRange" };
    return !sure && value > 0 && value < 20 && /[.,]/.test(text) ? { wrong: "EcMeant", meant: value * 1000 * units.ecFactor } : { value };
  }
  if (value >= 50) return value <= 50000 ? { wrong: "EcMeant", meant: value / 1000 } : { wrong: "EcRange" };
  if (!sure && value >= 8) return { wrong: "EcMeant", meant: value / 10 };
  return { value };
}

// Per cent of full. "0.5" for a half is a common slip.
export function readLevel(text, sure = false) {
  const value = read(text);
  if (value === null) return { value };
  if (Number.isNaN(value)) return { wrong: "NotNumber" };
  if (value < 0 || value > 100) return { wrong: "LevelRange" };
  if (!sure && value > 0 && value <= 1) return { wrong: "LevelMeant", meant: value * 100 };
  return { value };
}

export function readCm(text) {
  const value = read(text);
  if (value === null) return { value };
  if (Number.isNaN(value)) return { wrong: "NotNumber" };
  return value < 0 || value > 300 ? { wrong: "CmRange" } : { value };
}

export function readMillilitres(text) {
  const value = read(text);
  return value === null || Number.isNaN(value) || value <= 0 || value > 20000 ? { wrong: "WrongMillilitres" } : { value };
}
