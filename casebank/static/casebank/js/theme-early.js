/* Runs before the first paint: marks that scripts run and applies the stored theme, so nothing flashes. */
(() => {
  const root = document.documentElement;
  root.classList.add("js");
  try {
    const theme = localStorage.getItem("casebank-theme");
    if (["light", "dark", "contrast"].includes(theme)) root.dataset.theme = theme;
  } catch { /* storage may be forbidden: the system's theme holds */ }
})();
