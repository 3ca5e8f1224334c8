/* Type-ahead for any input with data-suggest="URL": an ARIA combobox over {"suggestions": [{text, hint}]}. */
const WAIT = 180;
const SHORTEST = 2;
let count = 0;

function build(input) {
  const list = document.createElement("ul");
  list.id = `suggest-${(count += 1)}`;
  list.className = `suggest__list${input.dataset.suggestAbove === undefined ? "" : " suggest__list--above"}`;
  list.setAttribute("role", "listbox");
  list.setAttribute("aria-label", "Suggestions");
  list.hidden = true;
  input.parentElement.append(list);
  for (const [name, value] of Object.entries({
    role: "combobox", autocomplete: "off", "aria-autocomplete": "list",
    "aria-expanded": "false", "aria-controls": list.id,
  })) input.setAttribute(name, value);
  return list;
}

class Suggest {
  constructor(input) {
    this.input = input;
    this.list = build(input);
    this.at = -1;
    input.addEventListener("input", (event) => event.isTrusted && this.later());
    input.addEventListener("keydown", (event) => this.key(event));
    input.addEventListener("blur", () => this.close());
    input.form?.addEventListener("submit", () => this.close());
    this.list.addEventListener("pointerdown", (event) => this.pick(event));
  }

  later() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.fetch(), WAIT);
  }

  async fetch() {
    const text = this.input.value.trim();
    this.stop?.abort();
    if (text.length < SHORTEST) return this.close();
    this.stop = new AbortController();
    const url = new URL(this.input.dataset.suggest, location.href);
    url.searchParams.set("q", text);
    try {
      const answer = await fetch(url, { signal: this.stop.signal, headers: { Accept: "application/json" } });
      if (answer.ok) this.show((await answer.json()).suggestions);
    } catch { this.close(); /* no suggestions: typing goes on */ }
  }

  show(suggestions) {
    if (!suggestions.length || document.activeElement !== this.input) return this.close();
    this.at = -1;
    this.list.replaceChildren(...suggestions.map((one, index) => this.item(one, index)));
    this.list.hidden = false;
    this.input.setAttribute("aria-expanded", "true");
  }

  item({ text, hint }, index) {
    const item = document.createElement("li");
    item.id = `${this.list.id}-${index}`;
    item.className = "suggest__item";
    item.setAttribute("role", "option");
    item.setAttribute("aria-selected", "false");
    item.dataset.text = text;
    item.append(text);
    if (hint) item.append(Object.assign(document.createElement("small"), { textContent: hint }));
    return item;
  }

  move(step) {
    const items = [...this.list.children];
    const stops = items.length + 1; /* the last stop is the text as typed */
    this.at = ((this.at === -1 ? items.length : this.at) + step + stops) % stops;
    items.forEach((item, index) => item.setAttribute("aria-selected", String(index === this.at)));
    const chosen = items[this.at];
    if (chosen) {
      this.input.setAttribute("aria-activedescendant", chosen.id);
      chosen.scrollIntoView({ block: "nearest" });
    } else this.input.removeAttribute("aria-activedescendant");
  }

  key(event) {
    if (this.list.hidden) return;
    const chosen = this.list.children[this.at];
    if (event.key === "ArrowDown") this.move(1);
    else if (event.key === "ArrowUp") this.move(-1);
    else if (event.key === "Enter" && chosen) this.take(chosen);
    else if (event.key === "Tab" && chosen) return this.take(chosen);
    else if (event.key === "Escape") this.close();
    else return;
    event.preventDefault();
  }

  pick(event) {
    const item = event.target.closest("[role=option]");
    event.preventDefault();
    if (item) this.take(item);
  }

  take(item) {
    this.input.value = item.dataset.text;
    this.close();
    this.input.dispatchEvent(new Event("input", { bubbles: true }));
  }

  close() {
    clearTimeout(this.timer);
    this.list.hidden = true;
    this.at = -1;
    this.input.setAttribute("aria-expanded", "false");
    this.input.removeAttribute("aria-activedescendant");
  }
}

export function startSuggest(root) {
  root.querySelectorAll("input[data-suggest]:not([role=combobox])").forEach((input) => new Suggest(input));
}
