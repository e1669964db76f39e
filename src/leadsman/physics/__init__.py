"""What nature does: functions of numbers, SI and radians, each with source and limits. Strangers to things."""
