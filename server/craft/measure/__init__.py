"""Units and published tables; fit (hand and gauge to chains) and yarn (stitches to metres and grams)."""
