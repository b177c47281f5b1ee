"""The same chain in SimPy 3, as a reader of its manual would write it: a process for each feed, divider and machine, a store
for each belt and buffer, every item by itself.

    python3 chain.py <machines> <minutes> <feed/min> <belt/min> <cycle s> <infeed> <stock> <from>

Every machine has so much stock at the start. Prints the seconds that the run took after so many minutes, the items passed from
place to place, and the cycles finished since then.
"""
import sys
import time

import simpy

THROUGH, BRANCH = 8, 4


class Belt:
    """Takes an item an interval after the last at the earliest, and gives it after its transit."""

    def __init__(self, env, capacity, interval):
        self.env = env
        self.interval = interval
        self.transit = capacity * interval
        self.store = simpy.Store(env, capacity)
        self.next_entry = 0

    def is_open(self):
        # Sums of intervals in floating point fall short of one another by rounding.
        return len(self.store.items) < self.store.capacity and self.env.now > self.next_entry - 1e-9

    def put(self, item):
        global moves
        moves += 1
        self.next_entry = self.env.now + self.interval
        return self.store.put((self.env.now + self.transit, item))

    def get(self):
        """A process that waits for the next item and for its time at the belt's end."""
        ready, item = yield self.store.get()
        if ready > self.env.now:
            yield self.env.timeout(ready - self.env.now)
        return item


moves = 0
cycles = 0


def feed(env, belt, interval):
    item = 0
    while True:
        while not belt.is_open():
            yield env.timeout(belt.interval)
        yield belt.put(item)
        item += 1
        yield env.timeout(interval)


def divider(env, inlet, outlets):
    turn = 0
    while True:
        item = yield env.process(inlet.get())
        while True:
            free = next((k for k in (turn, 1 - turn) if outlets[k].is_open()), None)
            if free is not None:
                break
            yield env.timeout(inlet.interval)
        yield outlets[free].put(item)
        turn = 1 - free


def infeed(env, belt, buffer):
    global moves
    while True:
        item = yield env.process(belt.get())
        yield buffer.put(item)
        moves += 1


def machine(env, buffer, cycle):
    global moves, cycles
    while True:
        yield buffer.get()
        moves += 1
        yield env.timeout(cycle)
        cycles += 1


def main():
    global moves, cycles
    count, minutes = int(sys.argv[1]), float(sys.argv[2])
    fed, carried, cycle, room = float(sys.argv[3]), float(sys.argv[4]), float(sys.argv[5]), int(sys.argv[6])
    stock, first = int(sys.argv[7]), float(sys.argv[8])
    env = simpy.Environment()
    through = [Belt(env, THROUGH, 60 / carried) for _ in range(count)]
    branch = [Belt(env, BRANCH, 60 / carried) for _ in range(count - 1)]
    env.process(feed(env, through[0], 60 / fed))
    for k in range(count):
        if k < count - 1:
            env.process(divider(env, through[k], (branch[k], through[k + 1])))
        buffer = simpy.Store(env, room)
        buffer.items.extend(range(stock))
        env.process(infeed(env, branch[k] if k < count - 1 else through[k], buffer))
        env.process(machine(env, buffer, cycle))
    if first > 0:
        env.run(until=60 * first)
        moves = cycles = 0
    start = time.process_time()
    env.run(until=60 * minutes)
    print(f"{time.process_time() - start:.6f} {moves} {cycles}")


main()
