"""Spreadsheets in: workbook, layout, rows, problems."""
