/*
 * The yardstick: a hand-written loop for one chain and nothing else. Belts are rings of entry times; one sweep a tick from
 * the tail to the head; even dividers, branch first; the last machine takes from the end of the through belt.
 *
 *     chain <machines> <ticks> <feed whole> <feed rest> <feed parts> <belt interval> <cycle> <infeed> <stock> <from>
 *
 * An interval of the feed is whole + rest / parts ticks, the others are whole ticks; every machine has so much stock at the
 * start. Prints the seconds that the loop took after the tick `from`, the items passed from place to place, and the cycles
 * finished since then.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { THROUGH = 8, BRANCH = 4 };

typedef struct {
  int32_t ring[8];
  int32_t head, count, capacity, transit, next_entry, next_exit;
} belt;

typedef struct {
  belt through, branch;
  int32_t level, busy, due, turn;
} station;

static int64_t moves;

static inline int enter(belt *b, int32_t tick, int32_t interval) {
  if (b->count == b->capacity || tick < b->next_entry) return 0;
  b->ring[(b->head + b->count) % b->capacity] = tick;
  b->count++;
  b->next_entry = tick + interval;
  moves++;
  return 1;
}

static inline int ready(const belt *b, int32_t tick) {
  return b->count > 0 && b->ring[b->head] + b->transit <= tick && b->next_exit <= tick;
}

static inline void leave(belt *b, int32_t tick, int32_t interval) {
  b->head = (b->head + 1) % b->capacity;
  b->count--;
  b->next_exit = tick + interval;
}

int main(int argc, char **argv) {
  if (argc != 11) return 2;
  const int32_t n = atoi(argv[1]), ticks = atoi(argv[2]);
  const int32_t whole = atoi(argv[3]), rest = atoi(argv[4]), parts = atoi(argv[5]);
  const int32_t interval = atoi(argv[6]), cycle = atoi(argv[7]), infeed = atoi(argv[8]);
  const int32_t stock = atoi(argv[9]), first = atoi(argv[10]);
  station *line = calloc(n, sizeof(station));
  for (int32_t k = 0; k < n; k++) {
    line[k].through.capacity = THROUGH;
    line[k].through.transit = THROUGH * interval;
    line[k].branch.capacity = BRANCH;
    line[k].branch.transit = BRANCH * interval;
    line[k].level = stock;
  }
  int32_t due = 0, lag = 0;
  int64_t cycles = 0;
  struct timespec from, to;
  for (int32_t tick = 1; tick <= ticks; tick++) {
    if (tick == first + 1) {
      moves = cycles = 0;
      clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &from);
    }
    for (int32_t k = n - 1; k >= 0; k--) {
      station *s = &line[k];
      if (s->busy && s->due <= tick) {
        s->busy = 0;
        cycles++;
      }
      if (!s->busy && s->level > 0) {
        s->level--;
        s->busy = 1;
        s->due = tick + cycle;
        moves++;
      }
      belt *into = k == n - 1 ? &s->through : &s->branch;
      if (s->level < infeed && ready(into, tick)) {
        leave(into, tick, interval);
        s->level++;
        moves++;
      }
      if (k == n - 1 || !ready(&s->through, tick)) continue;
      for (int32_t i = 0; i < 2; i++) {
        const int32_t outlet = s->turn ^ i;
        belt *out = outlet == 0 ? &s->branch : &line[k + 1].through;
        if (!enter(out, tick, interval)) continue;
        leave(&s->through, tick, interval);
        s->turn = 1 - outlet;
        break;
      }
    }
    if (due <= tick && enter(&line[0].through, tick, interval)) {
      const int32_t late = due < tick ? tick - 1 : due;
      if (due < tick) lag = 0;
      lag -= rest;
      due = late + whole + (lag < 0);
      if (lag < 0) lag += parts;
    }
  }
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &to);
  printf("%.6f %lld %lld\n", (to.tv_sec - from.tv_sec) + (to.tv_nsec - from.tv_nsec) / 1e9, (long long)moves,
         (long long)cycles);
  return 0;
}
