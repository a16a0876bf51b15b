// @ts-check
// How a cell shows questions.

import { shownBy } from "./form.js";
import { initialize } from "./moved.js";
import { QuestionsView } from "./questions.js";

export default { initialize, render: shownBy(QuestionsView) };
