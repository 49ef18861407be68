"""One module for each group of commands; ``cardgen.cli`` reads the words and calls them."""
