// Light and dark without a round trip; without scripts the same button posts its form and the server sets the same cookie.
const order = { light: "dark", dark: "light" };

const shown = () => document.documentElement.dataset.theme
  || (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light");

document.addEventListener("submit", event => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.matches("[data-theme-form]")) return;
  event.preventDefault();
  const next = order[shown()];
  document.documentElement.dataset.theme = next;
  document.cookie = `rootwater-theme=${next}; path=/; max-age=31536000; samesite=strict`;
}, true);

document.addEventListener("click", event => {
  // The page's own navigation scrolls to "#main" and leaves the focus behind.
  if (event.target instanceof Element && event.target.closest(".skip")) document.getElementById("main")?.focus();
  const target = event.target instanceof Element ? event.target.closest("[data-print],[data-reload],[data-dismiss]") : null;
  if (!target) return;
  if (target.hasAttribute("data-print")) print();
  if (target.hasAttribute("data-reload")) location.reload();
  if (target.hasAttribute("data-dismiss")) document.getElementById("blazor-error-ui")?.style.setProperty("display", "none");
});

// The connection to the server: say so, try again when the phone wakes, reload when the server has forgotten the page (every step is saved).
const modal = document.getElementById("components-reconnect-modal");
modal?.addEventListener("components-reconnect-state-changed", event => {
  const state = event.detail.state;
  if (state === "show") modal.showModal();
  else if (state === "hide") modal.close();
  else if (state === "failed") document.addEventListener("visibilitychange", retry, { once: true });
  else if (state === "rejected") location.reload();
});

async function retry() {
  try {
    if (!await window.Blazor?.reconnect()) location.reload();
  } catch {
    document.addEventListener("visibilitychange", retry, { once: true });
  }
}
document.getElementById("reconnect-now")?.addEventListener("click", retry);

// The list of further pages closes when the reader goes elsewhere.
const closeMore = from => document.querySelectorAll("details[data-more][open]").forEach(each => { if (!from || !each.contains(from)) each.open = false; });
document.addEventListener("click", event => closeMore(event.target instanceof Node ? event.target : null));
document.addEventListener("keydown", event => {
  const open = document.querySelector("details[data-more][open]");
  if (event.key !== "Escape" || !open) return;
  open.open = false;
  open.querySelector("summary")?.focus();
});

// A part of a drawing is a button: Enter and Space press it. (SVG has no button of its own.)
document.addEventListener("keydown", event => {
  if ((event.key !== "Enter" && event.key !== " ") || !(event.target instanceof SVGElement) || event.target.getAttribute("role") !== "button") return;
  event.preventDefault();
  event.target.dispatchEvent(new MouseEvent("click", { bubbles: true }));
});

// One year of a strip comes into view sideways; the page itself stays where it is.
document.addEventListener("click", event => {
  const step = event.target instanceof Element ? event.target.closest("[data-strip]") : null;
  const panel = step && document.getElementById(step.dataset.strip);
  if (!panel) return;
  event.preventDefault();
  event.stopPropagation();
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const strip = panel.parentElement;
  strip.scrollBy({ left: panel.getBoundingClientRect().left - strip.getBoundingClientRect().left, behavior: calm ? "instant" : "smooth" });
}, true);
