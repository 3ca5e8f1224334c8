/* A line that shows on a trace where its sound is, and keeps the part it stands in before the eye. */
const SVG = "http://www.w3.org/2000/svg";
/* As casebank/domain/signs/drawing/traces.py draws: margin, units of a second, pixels of a unit. */
const LEFT = 20;
const PER_SECOND = 150;
const PIXELS = 0.8;
/* Shares of the window: the line turns the page at its edge, and stands here on the next. */
const EDGE = 0.08;
const START = 0.15;

function made(name, attributes) {
  const one = document.createElementNS(SVG, name);
  Object.entries(attributes).forEach(([key, value]) => one.setAttribute(key, value));
  return one;
}

function follow(trace, line) {
  const [view, at] = [trace.getBoundingClientRect(), line.getBoundingClientRect().left];
  const isInside = at >= view.left && at <= view.right - EDGE * view.width;
  if (!isInside) trace.scrollLeft += at - view.left - START * view.width;
}

export function cursorOver(trace) {
  if (!trace) return { moveTo() {} };
  const image = trace.querySelector("img");
  const line = made("line", { class: "player__cursor", y1: 0, y2: 100, x1: LEFT, x2: LEFT });
  const sheet = made("svg", { class: "player__over", preserveAspectRatio: "none", "aria-hidden": "true" });
  let last = 0;
  sheet.append(line);
  image.after(sheet);

  function moveTo(seconds) {
    if (!image.naturalWidth) return;
    const x = LEFT + seconds * PER_SECOND;
    sheet.setAttribute("viewBox", `0 0 ${image.naturalWidth / PIXELS} 100`);
    line.setAttribute("x1", x);
    line.setAttribute("x2", x);
    if (seconds !== last) follow(trace, line);
    last = seconds;
  }

  image.addEventListener("load", () => moveTo(last));
  return { moveTo };
}
