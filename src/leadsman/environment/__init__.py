"""What water and air are, where and when."""
