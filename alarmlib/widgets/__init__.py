"""What a page shows and asks: one form engine, tables for bulk entry, the log pad, work with progress.

The only place that imports ipywidgets and anywidget. No text of guidance is here.
"""
