"""Keeps what was worked out in earlier runs: plain arrays in files of the user's cache folder, never code.

Reading order, from what is called first to what it stands on: `in_force`, `arrays`, `naming`, `places`.
"""

from matcher.store.arrays import ArrayStore, StoreSize
from matcher.store.in_force import keep_in, recalled_array, store_folder
from matcher.store.naming import name_of
from matcher.store.places import usual_folder

__all__ = ["ArrayStore", "StoreSize", "keep_in", "name_of", "recalled_array", "store_folder", "usual_folder"]
