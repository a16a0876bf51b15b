// @ts-check
// How a cell shows a form.

import { FormView, shownBy } from "./form.js";

export default { render: shownBy(FormView) };
