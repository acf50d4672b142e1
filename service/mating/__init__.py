"""What goes with what: rule rows over sets of parts, and the candidates they rank."""
