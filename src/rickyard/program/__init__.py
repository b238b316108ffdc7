"""The season program: needs, problem, model, solve, explain; one module each."""
