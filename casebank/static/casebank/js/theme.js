/* The theme choice in the footer: light, dark, high contrast, or as the system says. */
const KEY = "casebank-theme";

function store(theme) {
  try {
    if (theme) localStorage.setItem(KEY, theme);
    else localStorage.removeItem(KEY);
  } catch { /* forbidden storage: the choice lasts for this page */ }
}

export function startTheme() {
  const choice = document.querySelector("[data-theme-choice]");
  if (!choice) return;
  const root = document.documentElement;
  choice.value = root.dataset.theme ?? "";
  choice.addEventListener("change", () => {
    if (choice.value) root.dataset.theme = choice.value;
    else delete root.dataset.theme;
    store(choice.value);
  });
}
