"""JupyterLab as the workbook's room: copies of the pages, settings, the server, drawing a page on opening."""
