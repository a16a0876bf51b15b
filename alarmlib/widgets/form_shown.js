// @ts-check
// How a cell shows a form.

import { FormView, shownBy } from "./form.js";
import { initialize } from "./moved.js";

export default { initialize, render: shownBy(FormView) };
