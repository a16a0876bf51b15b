// @ts-check
// The sheet of a page in a tab of its own: the page's Python makes it, its reader prints it there.

const KEPT_MS = 600000;
const WAITING = "The sheet is being made …";
const NO_TAB = "The browser kept the new tab closed. Let this page open tabs, then press Print again.";

/**
 * @param {any} panel @param {string} title @param {(question: Record<string, unknown>) => Promise<Record<string, any>>} ask
 * @returns {Promise<Record<string, any>>} what the bar shall say
 */
export async function showSheet(panel, title, ask) {
  const tab = window.open("", "_blank"); // at once: a browser opens none for what comes later
  if (!tab) return { error: NO_TAB };
  tab.document.title = WAITING;
  tab.document.body.textContent = WAITING;
  const cells = [...panel.content.model.cells].map((cell) => [cell.type, cell.sharedModel.getSource()]);
  const answer = await ask({ kind: "sheet", title, cells });
  if (answer.error) {
    tab.close();
    return answer;
  }
  const address = URL.createObjectURL(new Blob([answer.sheet], { type: "text/html" }));
  tab.location.replace(address);
  setTimeout(() => URL.revokeObjectURL(address), KEPT_MS);
  return { say: "" };
}
