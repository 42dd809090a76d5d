"""Documents printed as PDF, as one HTML file, or as TeX."""
