// @ts-check
// A line that says how far long work is, and a button that stops it.

const SILENT_MS = 8000;

function render({ model, el }) {
  const box = document.createElement("div");
  box.className = "alarm-form progress";
  const line = document.createElement("p");
  line.setAttribute("role", "status");
  const stop = document.createElement("button");
  stop.type = "button";
  stop.textContent = `Stop: ${model.get("title")}`;
  stop.addEventListener("click", () => {
    stop.disabled = true;
    model.send({ kind: "stop" });
  });
  for (const kind of /** @type {const} */ (["keydown", "keyup", "keypress"])) {
    box.addEventListener(kind, (event) => event.ctrlKey || event.metaKey || event.stopPropagation());
  }
  let heard = Date.now();
  const draw = () => {
    const running = model.get("running");
    const lost = running && Date.now() - heard > SILENT_MS;
    const said = lost ? "Python does not answer. If it was stopped, the work is lost: run this page again." : model.get("said");
    const how = model.get("stoppable") ? "" : " (the notebook’s stop button ends it)";
    const text = `${model.get("title")}: ${said || `working …${how}`}`;
    if (line.textContent !== text) line.textContent = text;
    stop.hidden = lost || !(running && model.get("stoppable"));
    if (!running) stop.disabled = false;
  };
  const hear = () => {
    heard = Date.now();
    draw();
  };
  const watch = setInterval(draw, 1000);
  box.append(line, stop);
  el.append(box);
  draw();
  const changes = ["change:said", "change:running", "change:beat"];
  for (const change of changes) model.on(change, hear);
  return () => {
    clearInterval(watch);
    changes.forEach((change) => model.off(change, hear));
  };
}

export default { render };
