// "/" goes to the box that finds, from anywhere but a place where it is typed.
addEventListener("keydown", (event) => {
  const typing = event.target instanceof Element && event.target.closest("input, textarea, select");
  const box = document.querySelector("input[type=search]");
  if (event.key !== "/" || typing || !box) return;
  event.preventDefault();
  box.focus();
});
