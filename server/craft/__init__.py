"""The trade: pattern text, fabric, making and measure. Standard library only."""
