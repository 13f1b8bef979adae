"""Spreads a function over items on several processes with Dask: results in order, the same for any number of workers.

A `Crew` says where the work is done: in this process, in worker processes started here (on loopback, without a
dashboard), or on a cluster that runs already. Dask is imported only when the work leaves this process. What was running
on a worker that dies is run again on another one. As with every program that starts processes, a script of one's own
must keep its work under ``if __name__ == "__main__":``.
"""

from matcher.spreading.crews import Crew, SpreadingError, crew_of
from matcher.spreading.hands import ALONE, Hands, Told, ToldName, gathered, spread, telling

__all__ = ["ALONE", "Crew", "Hands", "SpreadingError", "Told", "ToldName", "crew_of", "gathered", "spread", "telling"]
