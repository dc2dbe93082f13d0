// Makes the pages quicker; everything works without it.
"use strict";

// Single keys lead to places, but never while something is being filled in.
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey || event.defaultPrevented) return;
  const at = event.target;
  if (at instanceof HTMLElement && (at.isContentEditable || /^(INPUT|SELECT|TEXTAREA)$/.test(at.tagName))) return;
  for (const one of document.querySelectorAll("[data-key]")) {
    if (one.dataset.key !== event.key) continue;
    event.preventDefault();
    if (one instanceof HTMLInputElement) one.focus();
    else one.click();
    return;
  }
});

// A form whose answer is only looked at is sent as soon as something is chosen.
for (const form of document.querySelectorAll("form[data-live]")) {
  for (const field of form.querySelectorAll("input[type=range]")) {
    const told = form.querySelector(`output[for=${field.id}]`);
    field.addEventListener("input", () => { if (told) told.textContent = `${field.value}°`; });
  }
  form.addEventListener("change", () => form.requestSubmit());
}

// A form that writes is sent once, however often the button is pressed.
for (const form of document.querySelectorAll("form[method=post]")) {
  form.addEventListener("submit", (event) => {
    if (form.dataset.sent) { event.preventDefault(); return; }
    form.dataset.sent = "yes";
    setTimeout(() => { delete form.dataset.sent; }, 4000);
  });
}

// A link to a heading inside something folded opens it.
const opened = () => {
  const at = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  for (let up = at; up; up = up.parentElement) if (up instanceof HTMLDetailsElement) up.open = true;
};
addEventListener("hashchange", opened);
opened();
