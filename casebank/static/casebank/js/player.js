/* The player of a finding's sound, over the plain controls that stay where scripts do not run. */
import { Loop } from "./loop.js";
import { cursorOver } from "./cursor.js";

const PLAYS = "casebank:plays";
const STEP = 1;
const CALM = matchMedia("(prefers-reduced-motion: reduce)");
const CALM_STEP = 0.5;
const RAISED = "Pitch raised, not as heard at the bedside";
const SLOW = "Half speed, pitch kept";
const SLOW_RATE = 0.5;

function button(words, key) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "button";
  made.textContent = words;
  if (key) made.setAttribute("aria-keyshortcuts", key);
  return made;
}

function toggle(words, key) {
  const made = button(words, key);
  made.setAttribute("aria-pressed", "false");
  return made;
}

function slider(words, max, step, value) {
  const label = document.createElement("label");
  const input = document.createElement("input");
  Object.assign(input, { type: "range", min: 0, max, step, value });
  label.className = "player__slider";
  label.append(words, input);
  return { label, input };
}

/* Where the sound is to be had as heard, raised, slow, and both, by the names of what is changed. */
function renditionsOf(root, plain) {
  const found = new Map([["", [...plain.querySelectorAll("source")].map((one) => one.src)]]);
  root.querySelectorAll("[data-rendition]").forEach((one) => found.set(one.dataset.rendition, [one.href]));
  return found;
}

function build(root, renditions) {
  const parts = {
    play: button("Play", "Space"),
    repeat: toggle("Repeat", "R"),
    position: slider("Position", 15, 0.1, 0),
    volume: slider("Volume", 100, 1, 25),
    time: document.createElement("p"),
    said: document.createElement("p"),
    controls: document.createElement("div"),
  };
  if (renditions.has("slow")) parts.slow = toggle(SLOW, "H");
  if (renditions.has("raised")) parts.raised = toggle(RAISED);
  parts.time.className = "num soft";
  parts.said.setAttribute("role", "status");
  parts.controls.className = "player__controls no-print";
  parts.controls.append(parts.play, parts.repeat, parts.slow ?? "", parts.raised ?? "", parts.position.label, parts.volume.label, parts.time, parts.said);
  root.querySelector("audio").after(parts.controls);
  return parts;
}

function start(root) {
  const plain = root.querySelector("audio");
  const links = root.querySelector("[data-renditions]");
  const renditions = renditionsOf(root, plain);
  const parts = build(root, renditions);
  const cursor = cursorOver(root.querySelector("[data-trace]"));
  const loop = new Loop(() => show());

  function show() {
    const now = CALM.matches ? Math.floor(loop.position / CALM_STEP) * CALM_STEP : loop.position;
    parts.play.textContent = loop.isPlaying ? "Pause" : "Play";
    parts.position.input.value = now;
    parts.position.input.setAttribute("aria-valuetext", `${now.toFixed(1)} seconds`);
    parts.time.textContent = loop.seconds ? `${now.toFixed(1)} s of ${loop.seconds.toFixed(0)} s` : "";
    cursor.moveTo(now);
  }

  function tick() {
    if (!root.isConnected) loop.pause();
    show();
    if (loop.isPlaying) requestAnimationFrame(tick);
  }

  function plainly(isPlain) {
    plain.hidden = !isPlain;
    if (links) links.hidden = !isPlain;
  }

  function giveUp() {
    parts.controls.remove();
    plainly(true);
    root.removeAttribute("tabindex");
    plain.focus();
  }

  const isPressed = (one) => one?.getAttribute("aria-pressed") === "true";

  async function ready() {
    const changed = ["raised", "slow"].filter((name) => isPressed(parts[name]));
    try {
      await loop.load(renditions.get(changed.join("-")), isPressed(parts.slow) ? SLOW_RATE : 1);
      parts.position.input.max = loop.seconds;
      return true;
    } catch {
      giveUp();
      return false;
    }
  }

  async function playOrPause() {
    if (loop.isPlaying) {
      loop.pause();
    } else if (await ready()) {
      document.dispatchEvent(new CustomEvent(PLAYS, { detail: root }));
      loop.play();
      requestAnimationFrame(tick);
    }
    show();
  }

  function press(one, set) {
    const pressed = !isPressed(one);
    one.setAttribute("aria-pressed", String(pressed));
    set(pressed);
  }

  async function move(seconds) {
    if (!loop.seconds && !(await ready())) return;
    loop.seek(loop.position + seconds);
    show();
  }

  const repeat = () => press(parts.repeat, (yes) => loop.setRepeats(yes));
  const change = (one) => press(one, () => ready().then(show));
  const keys = { r: repeat, ...(parts.slow && { h: () => change(parts.slow) }) };
  const held = { " ": playOrPause, ArrowLeft: () => move(-STEP), ArrowRight: () => move(STEP) };

  /* Buttons keep their own Space, sliders their own arrows. */
  function onKey(event) {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const isOwn = (event.key === " " && event.target.matches("button"))
      || (event.key !== " " && event.target.matches("input"));
    const act = keys[event.key.toLowerCase()] ?? (isOwn ? undefined : held[event.key]);
    if (!act || (event.repeat && !event.key.startsWith("Arrow"))) return;
    event.preventDefault();
    act();
  }

  parts.play.addEventListener("click", playOrPause);
  parts.repeat.addEventListener("click", repeat);
  [parts.slow, parts.raised].forEach((one) => one?.addEventListener("click", () => change(one)));
  parts.volume.input.addEventListener("input", () => loop.setVolume(parts.volume.input.value / 100));
  parts.position.input.addEventListener("input", async () => {
    const seconds = Number(parts.position.input.value);
    if (loop.seconds || (await ready())) loop.seek(seconds);
    show();
  });
  root.addEventListener("keydown", onKey);
  document.addEventListener(PLAYS, ({ detail }) => {
    if (detail !== root) loop.pause();
    show();
  });
  plainly(false);
  Object.entries({ role: "group", tabindex: "0", "aria-label": "Player: Space plays, R repeats, H halves the speed, arrows move" })
    .forEach(([name, value]) => root.setAttribute(name, value));
  show();
}

export function startPlayers(root) {
  root.querySelectorAll("[data-player]:not([data-ready])").forEach((one) => {
    one.dataset.ready = "";
    if (window.AudioContext) start(one);
  });
}
