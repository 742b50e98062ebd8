"""What each report says; pdf and xlsx only give it a form."""

from estate.reports.certificate import certificate
from estate.reports.overdue import overdue
from estate.reports.summary import summary

__all__ = ["certificate", "overdue", "summary"]
