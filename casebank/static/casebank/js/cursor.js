/* A line that shows on a trace where its sound is; the trace holds the sound's first seconds only. */
const SVG = "http://www.w3.org/2000/svg";
/* As casebank/domain/signs/drawing/traces.py draws: margin, width of the curve, seconds on it. */
const LEFT = 20;
const WIDTH = 1200;
const SECONDS = 6;

function made(name, attributes) {
  const one = document.createElementNS(SVG, name);
  Object.entries(attributes).forEach(([key, value]) => one.setAttribute(key, value));
  return one;
}

export function cursorOver(trace) {
  if (!trace) return { moveTo() {} };
  const line = made("line", { class: "player__cursor", y1: 0, y2: 100, x1: LEFT, x2: LEFT });
  const sheet = made("svg", {
    class: "player__over", viewBox: `0 0 ${WIDTH + 2 * LEFT} 100`, preserveAspectRatio: "none",
    "aria-hidden": "true",
  });
  sheet.append(line);
  trace.append(sheet);
  return {
    moveTo(seconds) {
      const x = LEFT + (Math.min(seconds, SECONDS) / SECONDS) * WIDTH;
      line.setAttribute("x1", x);
      line.setAttribute("x2", x);
      line.setAttribute("visibility", seconds > SECONDS ? "hidden" : "visible");
    },
  };
}
