"""A sheet as blocks and as text: one walker, dialects, templates, figures."""
