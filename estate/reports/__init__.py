"""Reports: what is said (content) and its ink (pdf, xlsx)."""
