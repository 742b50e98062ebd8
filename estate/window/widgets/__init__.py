"""Parts that pages and dialogs are built of."""
