// Two lights, paper and dark field. The choice is put on the page before anything is drawn; without
// a choice, or without this script, the system's light holds.
(() => {
  const root = document.documentElement;
  root.dataset.script = "";
  try {
    const kept = localStorage.getItem("light");
    if (kept === "paper" || kept === "field") root.dataset.light = kept;
  } catch {
    // Storage may be shut off; then the choice lasts for this page.
  }
  const isDark = () => getComputedStyle(root).colorScheme.includes("dark");
  const name = (button) => {
    button.setAttribute("aria-label", `light: ${isDark() ? "dark field" : "paper"}; switch`);
  };
  addEventListener("DOMContentLoaded", () => {
    for (const button of document.querySelectorAll("[data-light-switch]")) {
      name(button);
      button.addEventListener("click", () => {
        root.dataset.light = isDark() ? "paper" : "field";
        name(button);
        try {
          localStorage.setItem("light", root.dataset.light);
        } catch {
          // See above.
        }
      });
    }
  });
})();
