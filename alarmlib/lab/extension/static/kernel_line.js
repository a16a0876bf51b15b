// @ts-check
// One question to the page's Python, and its answer.

const TARGET = "alarmlib-bar";

/**
 * Asks the kernel; it answers messages in order, so what was typed before is saved by then. Never fails: what goes wrong
 * is the answer's `error`.
 * @param {any} kernel @param {Record<string, unknown>} question @returns {Promise<Record<string, any>>}
 */
export function ask(kernel, question) {
  return new Promise((answered) => {
    if (!kernel || kernel.status === "dead") {
      answered({ error: "Python has stopped. Run this page again, then try once more." });
      return;
    }
    const line = kernel.createComm(TARGET);
    const take = (answer) => {
      answered(answer);
      if (!line.isDisposed) line.dispose();
    };
    line.onMsg = (message) => take(message.content.data);
    line.onClose = () => take({ error: "This page has not begun yet. Run it again, then try once more." });
    line.open(question);
  });
}
