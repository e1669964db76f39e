"""Open formats of others: charts, water, routes, logs."""
