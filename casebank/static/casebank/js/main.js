/* Starts each small behaviour, now and after every swap; a page without scripts works all the same. */
import { startTheme } from "./theme.js";
import { startSuggest } from "./suggest.js";
import { startRequestLine } from "./request-line.js";
import { startDifferential } from "./differential.js";
import { startSheet, showNewest } from "./sheet.js";
import { startBody } from "./body.js";
import { startPlayers } from "./player.js";
import { focusMarked } from "./focus.js";

function start(root) {
  startSuggest(root);
  startRequestLine(root);
  startDifferential(root);
  startBody(root);
  startPlayers(root);
}

startTheme();
start(document);
startSheet();
focusMarked(document);

document.addEventListener("htmx:after:swap", () => {
  start(document);
  showNewest();
  focusMarked(document);
});
