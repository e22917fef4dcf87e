"""What runs beside every answer: telemetry, cached answers, admission (lanes, rates, deadline). Knows no strap."""
