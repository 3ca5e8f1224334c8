/* Moves the focus to what needs it after a page or a swap: an error summary marked data-focus. */
export function focusMarked(root) {
  const marked = root.querySelector("[data-focus]:not([data-focused])");
  if (!marked) return;
  marked.dataset.focused = "";
  marked.focus();
}
