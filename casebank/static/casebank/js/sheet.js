/* Keeps the newest entry of the sheet in view, above the request line. */
let last = null;

function newest() {
  return document.querySelector("[data-sheet-rows] > :last-child");
}

export function showNewest() {
  const entry = newest();
  if (!entry || entry.id === last) return;
  last?.length && document.getElementById(last)?.classList.remove("entry--new");
  last = entry.id;
  entry.classList.add("entry--new");
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  entry.scrollIntoView({ block: "end", behavior: calm ? "auto" : "smooth" });
}

export function startSheet() {
  const entry = newest();
  if (!entry || location.hash) return;
  last = entry.id;
  entry.scrollIntoView({ block: "end" });
}
