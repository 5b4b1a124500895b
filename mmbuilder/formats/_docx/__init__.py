"""What python-docx has no call for: clean documents, numbering, alt text, marked stills."""
