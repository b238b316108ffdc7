"""What sheep, goats, horses, donkeys, dairy heifers and dry cows, llamas and alpacas need."""
