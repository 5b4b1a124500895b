"""What the three Office formats have in common: a package of parts, related and typed (ECMA-376 Part 2)."""
