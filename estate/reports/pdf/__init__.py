"""A report on paper: PDF, A4, with every page knowing its number."""

from estate.reports.pdf.writing import write

__all__ = ["write"]
