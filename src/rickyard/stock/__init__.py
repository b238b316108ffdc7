"""What an animal needs: pure functions on floats and arrays."""
