// The mixing card: the screen stays awake while a can is being mixed, and the next step comes into view. The lock is lost when the page is hidden, so it is asked for again.
let lock = null;
let wanted = false;

async function ask() {
  if (!wanted || !("wakeLock" in navigator) || document.visibilityState !== "visible") return;
  try {
    lock = await navigator.wakeLock.request("screen");
  } catch {
    lock = null; // Low battery or no permission: the card works as well without it.
  }
}

document.addEventListener("visibilitychange", ask);

export async function keepAwake() {
  wanted = true;
  await ask();
  return lock !== null;
}

export async function letSleep() {
  wanted = false;
  await lock?.release();
  lock = null;
}

export function show(id) {
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  document.getElementById(id)?.scrollIntoView({ block: "nearest", behavior: calm ? "instant" : "smooth" });
}
