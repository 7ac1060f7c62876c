"""The workbook: one design, and a panel for each step of the job, so that all of it can be done by hand.

`workbook` is the widget; `panel` says what a panel is, and each of the others is one. A panel's page is the file of
the same name that ends in ``.js``; what the pages are made of is in ``kit.js``, ``controls.js`` and ``fields.js``.
"""
