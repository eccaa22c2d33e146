// A link into something folded opens it, and puts the cursor where there is something to type.
// Newer browsers open it by themselves.

function reveal() {
  const target = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (!target) return;
  for (let fold = target.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  const typed = "input, textarea, select";
  const box = target.matches(typed) ? target : target.querySelector(`:scope ${typed}`);
  target.scrollIntoView({ block: "center" });
  if (box && target.id.startsWith("enter-")) box.focus({ preventScroll: true });
}

addEventListener("hashchange", reveal);
// The same link pressed twice changes no address.
addEventListener("click", (event) => {
  const link = event.target instanceof Element && event.target.closest("a[href^='#']");
  if (link && link.getAttribute("href") === location.hash) reveal();
});
reveal();
