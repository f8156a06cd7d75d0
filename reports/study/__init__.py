"""What a reviewer of methods asks: the flow of rows, the methods, deviations, models, files."""
