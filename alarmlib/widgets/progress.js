// A line that says how far long work is, and a button that stops it.

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
  for (const kind of ["keydown", "keyup", "keypress"]) {
    box.addEventListener(kind, (event) => event.ctrlKey || event.metaKey || event.stopPropagation());
  }
  const draw = () => {
    const said = model.get("said");
    const how = model.get("stoppable") ? "" : " (the notebook’s stop button ends it)";
    line.textContent = `${model.get("title")}: ${said || `working …${how}`}`;
    stop.hidden = !(model.get("running") && model.get("stoppable"));
  };
  box.append(line, stop);
  el.append(box);
  draw();
  const changes = ["change:said", "change:running"];
  for (const change of changes) model.on(change, draw);
  return () => changes.forEach((change) => model.off(change, draw));
}

export default { render };
