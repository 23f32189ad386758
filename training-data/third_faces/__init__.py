"""Invented phone photos of snapped steel coupons, with the truth beside them; see `__main__.py`."""
