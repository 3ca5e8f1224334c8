/* The request line: arrow up and down walk through what was asked before; focus comes back after each. */
const asked = [];

function remember(text) {
  if (text && asked.at(-1) !== text) asked.push(text);
}

function walk(input, step) {
  const at = Number(input.dataset.at ?? asked.length) + step;
  if (at < 0 || at > asked.length) return;
  input.dataset.at = at;
  input.value = asked[at] ?? "";
  input.setSelectionRange(input.value.length, input.value.length);
}

function onKey(event) {
  const input = event.currentTarget;
  if (event.defaultPrevented || input.getAttribute("aria-expanded") === "true") return;
  if (event.key === "ArrowUp") walk(input, -1);
  else if (event.key === "ArrowDown") walk(input, 1);
  else return;
  event.preventDefault();
  input.dispatchEvent(new Event("input", { bubbles: true }));
}

function fromThePage() {
  document.querySelectorAll("[data-said]").forEach((entry) => remember(entry.dataset.said));
}

export function startRequestLine(root) {
  const input = root.querySelector("[data-request-line]");
  if (!input || input.dataset.ready) return;
  input.dataset.ready = "";
  fromThePage();
  input.addEventListener("keydown", onKey);
  input.form?.addEventListener("submit", () => remember(input.value.trim()));
  if (matchMedia("(hover: hover)").matches) input.focus({ preventScroll: true });
}
