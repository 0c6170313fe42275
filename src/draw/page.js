// Ticks are remembered where the page may remember anything.
for (const box of document.querySelectorAll("input[data-tick]")) {
  const key = document.body.dataset.job + "/" + box.dataset.tick;
  try { box.checked = localStorage.getItem(key) === "1" } catch { continue }
  box.addEventListener("change", () => {
    try { localStorage.setItem(key, box.checked ? "1" : "0") } catch { /* it stays on this page */ }
  });
}
