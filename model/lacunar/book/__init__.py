"""What the crew carries: a book, labels, templates."""
