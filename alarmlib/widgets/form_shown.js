export default { render: shownBy(FormView) };
