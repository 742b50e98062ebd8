"""A report as a workbook: numbers and dates are real, and no words run as a formula."""

from estate.reports.xlsx.writing import write

__all__ = ["write"]
