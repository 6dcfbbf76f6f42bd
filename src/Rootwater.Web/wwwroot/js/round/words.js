// The page's words, from the server's resource files.
let words = {};

export function learn(json) {
  words = JSON.parse(json);
}

export function say(key, ...values) {
  return (words[key] ?? key).replace(/\{(\d)\}/g, (_, at) => String(values[at] ?? ""));
}

// Makes an element: make("button", { class: "act", type: "button", on: { click } }, "Words", child)
export function make(name, attributes = {}, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key === "on") for (const [type, handler] of Object.entries(value)) element.addEventListener(type, handler);
    else if (value === true) element.setAttribute(key, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(key, value);
  }
  element.append(...children.filter(child => child !== null && child !== undefined && child !== false));
  return element;
}
