"""What hay is worth and what storing it costs: price bases, nutrient worth, investments.

Makes prices compare; decides nothing.
"""

# fmt: off
from rickyard.hay.money import investment, money, worth
from rickyard.hay.money.investment import capital_recovery
from rickyard.hay.money.money import basket_cost
from rickyard.hay.money.price_page import (
    HayPrice, Market, Offer, StoragePrice, WayOfStoring, hay_price, storage_prices,
)
from rickyard.hay.money.worth import nutrient_prices, petersen_value

__all__ = [
    "HayPrice", "Market", "Offer", "StoragePrice", "WayOfStoring", "basket_cost",
    "capital_recovery", "hay_price", "investment", "money", "nutrient_prices", "petersen_value",
    "storage_prices", "worth",
]
