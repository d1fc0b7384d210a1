/* Doubles from stdin and to stdout, and the time: what the plain C baselines share. */
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
