"""What people type and addresses ask, read and checked. The deeds behind them are services."""
