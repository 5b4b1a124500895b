"""How a PDF is read into pages of pixels and text, and how pages of pixels are written as one."""
