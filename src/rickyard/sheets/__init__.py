"""What leaves on paper or as a file."""
