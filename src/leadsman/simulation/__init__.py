"""How she moves: parameters, kernels, trials, runs and ensembles."""
