"""What a laboratory value means: basis, energy, protein, hazards, typical composition."""
