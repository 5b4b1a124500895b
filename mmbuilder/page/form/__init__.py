"""The guided form: a case file as sections, fields and lists, and every change of it back into its text."""
