/* The body drawing: a place put into the request line, its name shown, closer views opened. */
let put = "";

function line() {
  return document.querySelector("[data-request-line]");
}

/* A second place replaces the first one, wherever it stands in the text. */
function insert(words) {
  const input = line();
  const text = input.value;
  const before = put && text.includes(put) ? text.replace(put, words) : `${text.trimEnd()} ${words}`;
  input.value = before.trimStart();
  put = words;
  input.focus();
  input.dispatchEvent(new Event("input", { bubbles: true }));
}

function open(slug) {
  const frame = document.getElementById(`body-${slug}`);
  const view = frame?.closest("details");
  if (!view) return;
  view.open = true;
  view.querySelector("summary").focus();
  view.scrollIntoView({ block: "nearest" });
}

function onClick(event) {
  const place = event.target.closest("[data-words]");
  if (!place || event.ctrlKey || event.metaKey) return;
  if (place.dataset.to) open(place.dataset.to);
  else if (line()) insert(place.dataset.words);
  else return;
  event.preventDefault();
}

function onReach(event) {
  const place = event.target.closest(".place");
  const name = event.target.closest(".body__frame")?.querySelector("[data-place-name]");
  if (name) name.textContent = place ? place.getAttribute("aria-label") : "";
}

export function startBody(root) {
  root.querySelectorAll("[data-body]:not([data-ready])").forEach((body) => {
    body.dataset.ready = "";
    body.addEventListener("click", onClick);
    body.addEventListener("pointerover", onReach);
    body.addEventListener("focusin", onReach);
  });
}
