/* The request line: arrow up and down walk through what was asked before; focus comes back after each.
   While an answer is on its way the next request may be typed, and even sent: it waits its turn. */
const asked = [];
let pending = null; /* the form sent, its words, and those of the next if that was sent too */
let kept = null; /* what was typed meanwhile, to be put into the fresh line */

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

/* What is picked for the request on its way does not belong to the one typed next. */
function onInput(event) {
  if (!pending || pending.isOver || event.currentTarget.value === pending.text) return;
  pending.isOver = true;
  event.currentTarget.form.querySelector(".request__readback").replaceChildren();
}

function fromThePage() {
  document.querySelectorAll("[data-said]").forEach((entry) => remember(entry.dataset.said));
}

function onSubmit(event) {
  const form = event.target;
  const text = form.querySelector("[data-request-line]")?.value;
  if (text === undefined) return;
  if (!pending) {
    pending = { form, text };
    remember(text.trim());
    return;
  }
  event.preventDefault();
  event.stopPropagation();
  if (text !== pending.text && !event.submitter?.name) pending.next = text;
}

function keep({ detail: { ctx } }) {
  if (!pending || ctx.request?.form !== pending.form) return;
  const input = pending.form.querySelector("[data-request-line]");
  if (input.value === pending.text) return;
  kept = {
    text: input.value,
    selection: [input.selectionStart, input.selectionEnd],
    picks: pending.form.querySelector(".picks"),
    isSent: pending.next === input.value,
  };
}

function finish({ detail: { ctx } }) {
  if (pending && ctx.request?.form === pending.form) pending = null;
}

/* Before the swap gives way to anything else: the very next key goes into the fresh line. */
function putBack() {
  const input = document.querySelector("[data-request-line]:not([data-ready])");
  if (!kept || !input) return;
  input.value = kept.text;
  input.setSelectionRange(...kept.selection);
}

function goOn(input) {
  const { picks, isSent } = kept;
  kept = pending = null;
  const readback = input.form.querySelector(".request__readback");
  if (readback.querySelector(".errorlist, .request__choices")) return; /* that answer comes first */
  if (picks) readback.replaceChildren(picks);
  if (isSent) input.form.requestSubmit();
  else input.dispatchEvent(new Event("input", { bubbles: true }));
}

document.addEventListener("submit", onSubmit, true);
document.addEventListener("htmx:before:swap", keep);
document.addEventListener("htmx:before:settle", putBack);
document.addEventListener("htmx:finally:request", finish);

export function startRequestLine(root) {
  const input = root.querySelector("[data-request-line]");
  if (!input || input.dataset.ready) return;
  input.dataset.ready = "";
  fromThePage();
  input.addEventListener("keydown", onKey);
  input.addEventListener("input", onInput);
  if (matchMedia("(hover: hover)").matches) input.focus({ preventScroll: true });
  if (kept) goOn(input);
}
