/* Doubles from stdin and to stdout, and the time: what the plain C baselines share. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double *read_all(size_t *count) {
  size_t room = 1 << 16, held = 0, got;
  double *values = malloc(room * sizeof *values);
  while (values != NULL && (got = fread(values + held, sizeof *values, room - held, stdin)) > 0) {
    held += got;
    if (held == room) values = realloc(values, (room *= 2) * sizeof *values);
  }
  if (values == NULL) exit(1);
  *count = held;
  return values;
}

static void write_all(const double *values, size_t count) {
  if (fwrite(values, sizeof *values, count, stdout) != count) exit(1);
}

static double now_ms(void) {
  struct timespec time;
  clock_gettime(CLOCK_MONOTONIC, &time);
  return time.tv_sec * 1e3 + time.tv_nsec / 1e6;
}

/*
 * Reads rounds, questions, and each question's numbers after how many they are. Writes the milliseconds of `work` a
 * question (the least of the rounds, mean over questions), then what `write_result` writes after each.
 */
static void time_and_write(void (*work)(const double *at, const double *end), void (*write_result)(void)) {
  size_t count;
  double *in = read_all(&count), total = 0;
  int rounds = (int)in[0], questions = (int)in[1];
  double *least = malloc(questions * sizeof *least);
  for (int q = 0; q < questions; q++) least[q] = INFINITY;
  for (int round = 0; round < rounds; round++) {
    const double *at = in + 2;
    for (int q = 0; q < questions; q++, at += 1 + (size_t)*at) {
      double began = now_ms();
      work(at + 1, at + 1 + (size_t)*at);
      double took = now_ms() - began;
      if (took < least[q]) least[q] = took;
    }
  }
  for (int q = 0; q < questions; q++) total += least[q] / questions;
  write_all(&total, 1);
  const double *at = in + 2;
  for (int q = 0; q < questions; q++, at += 1 + (size_t)*at) {
    work(at + 1, at + 1 + (size_t)*at);
    write_result();
  }
}
