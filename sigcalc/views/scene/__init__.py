"""Things as they look on the table, and a table to lay them on and to wire them up. One SVG file a thing."""
