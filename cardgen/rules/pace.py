"""How long does a thread take? With returns, settings and tool changes.

Times in s, lengths in mm, speeds in 1/min.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Pace:
    """What one pass and one tool cost in time.

    Attributes
    ----------
    cut
        Of a pass in the thread [s].
    back
        From the end of the cut until the tool stands before the thread again [s].
    dial
        To set one dial [s].
    change
        To change the tool and find the groove again [s].
    grind
        To grind another blade [s].
    starts
        Of the thread, each of which is cut by the whole list.
    """

    cut: float
    back: float
    dial: float
    change: float
    grind: float
    starts: int

    def total(self, passes: int, dials: int, tools: int) -> float:
        """Return the time of all passes [s].

        Parameters
        ----------
        passes
            For each start.
        dials
            That are set anew for each pass.
        tools
            That are used. Each start but the first begins with the first tool again.

        Examples
        --------
        >>> Pace(cut=20, back=10, dial=5, change=300, grind=900, starts=1).total(40, 1, 1)
        1400
        """
        changes = (2 * self.starts - 1) * (tools - 1)
        run = self.cut + self.back + self.dial * dials
        return self.starts * passes * run + self.change * changes + self.grind * (tools - 1)


def cutting_time(length: float, lead: float, speed: float) -> float:
    """Return the time of a pass along a thread [s].

    Examples
    --------
    >>> cutting_time(120.0, 5.0, 60.0)
    24.0
    """
    return 60 * length / (lead * speed)


def wound_back(length: float, by_hand: float, catch: float) -> float:
    """Return the time of a return with the half-nut open [s].

    Parameters
    ----------
    length
        Of the thread [mm].
    by_hand
        Speed at which the carriage is wound [mm/s].
    catch
        Until the half-nut may close again [s].

    Examples
    --------
    >>> wound_back(120.0, 20.0, 5.0)
    11.0
    """
    return length / by_hand + catch
