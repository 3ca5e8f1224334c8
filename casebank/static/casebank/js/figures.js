/* Lets the server judge the numbers of a form, and keeps what a number's control cannot send. */

/* Without scripts the browser checks them itself; with them the errors stand beside the fields. */
function start() {
  document.querySelectorAll("form[data-figures]").forEach((form) => { form.noValidate = true; });
}

/* Half a number, such as "1e", would be sent as nothing at all. */
function keepTyped(event) {
  if (!event.target.matches("form[data-figures]")) return;
  const half = [...event.target.elements].find((one) => one.validity?.badInput);
  if (!half) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  half.reportValidity();
}

start();
document.addEventListener("htmx:after:swap", start);
document.addEventListener("submit", keepTyped, { capture: true });
