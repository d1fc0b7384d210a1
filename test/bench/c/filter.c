/*
 * The filter of the leak-rate posterior (src/core/leak/charge-filter.ts) in plain C, as a baseline for its speed: the
 * same steps in the same order, one loop over the nodes a step, with the same tables.
 *
 * Reads doubles from stdin: rounds, questions, then for each question the number of doubles that follow it and its
 * steps (see filter-steps.ts). Writes doubles to stdout: milliseconds a question (the least of the rounds, mean over
 * questions), then for each question its nodes' weights and mean charges.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "io.h"

enum { X_COUNT = 96, G_COUNT = 13, NODES = X_COUNT * G_COUNT };
enum { START = 1, MOVE, RECTIFY, RECOVERED, LEVEL, LOOK, SET, ADD, CAP, REPAIR };

#define TAIL_STEPS 128
#define TAIL_POINTS 1217
#define TERMS 6
#define EXP_STEPS 64
#define EXP_LIMIT 48

static double tail_table[TAIL_POINTS * TERMS], exp_table[EXP_LIMIT * EXP_STEPS + 1];
static double mean_m[NODES], mean_b[NODES], var_m[NODES], cov_mb[NODES], var_b[NODES], linear[NODES], logs[NODES];
static double mean_v[NODES], var_v[NODES], cov_mv[NODES], cov_bv[NODES];
static double prior[NODES], weight[NODES], k[X_COUNT], nameplate;

static double density(double z) { return 0.3989422804014327 * exp(-0.5 * z * z); }

static void make_tables(void) {
  for (int i = 0; i <= EXP_LIMIT * EXP_STEPS; i++) exp_table[i] = exp(-i / (double)EXP_STEPS);
  for (int i = 0; i < TAIL_POINTS; i++) {
    double a = i / (double)TAIL_STEPS, before = 0, hermite = 1, per_factorial = 1;
    tail_table[i * TERMS] = 0.5 * erfc(a / sqrt(2));
    for (int term = 1; term < TERMS; term++) {
      per_factorial /= -term;
      tail_table[i * TERMS + term] = per_factorial * hermite * density(a);
      double next = a * hermite - (term - 1) * before;
      before = hermite;
      hermite = next;
    }
  }
}

static inline double exp_negative(double x) {
  if (x >= EXP_LIMIT) return exp(-x);
  int i = (int)(x * EXP_STEPS);
  double r = i / (double)EXP_STEPS - x;
  return exp_table[i] * (1 + r * (1 + r * (0.5 + r * (1. / 6 + r * (1. / 24 + r * (1. / 120))))));
}

static inline double upper_tail(double a) {
  int i = (int)(a * TAIL_STEPS + 0.5);
  double r = a - i / (double)TAIL_STEPS, r2 = r * r, *t = tail_table + i * TERMS;
  return t[0] + r * t[1] + r2 * (t[2] + r * t[3] + r2 * (t[4] + r * t[5]));
}

static inline void multiply(int n, double evidence) {
  double product = linear[n] * evidence;
  if ((product < 1e-150 && product > 0) || product > 1e150) {
    logs[n] += log(product);
    linear[n] = 1;
  } else
    linear[n] = product;
}

static void move(const double *span, const double *noise) {
  for (int j = 0, n = 0; j < G_COUNT; j++)
    for (int i = 0; i < X_COUNT; i++, n++) {
      mean_m[n] -= k[i] * span[j];
      var_m[n] += k[i] * k[i] * noise[j];
    }
}

static void rectify(void) {
  for (int n = 0; n < NODES; n++) {
    double mean = mean_m[n], variance = var_m[n];
    if (mean * mean >= 64 * variance) {
      if (mean > 0 || (mean == 0 && variance == 0)) continue;
      mean_m[n] = var_m[n] = cov_mb[n] = 0;
      continue;
    }
    double sd = sqrt(variance), alpha = mean / sd, tail = upper_tail(fabs(alpha));
    double above = alpha > 0 ? 1 - tail : tail, dense = 0.3989422804014327 * exp_negative(0.5 * alpha * alpha);
    double rectified = mean * above + sd * dense;
    double left = (mean * mean + variance) * above + mean * sd * dense - rectified * rectified;
    mean_m[n] = rectified;
    var_m[n] = left > 0 ? left : 0;
    cov_mb[n] *= above;
  }
}

static void look(double own, double fixed, double soft2, double sign, double mistaken, int with_error) {
  double sure = 1 - 2 * mistaken;
  for (int n = 0; n < NODES; n++) {
    double per_s = 1 / sqrt(var_m[n] - own * (2 * cov_mb[n] - var_b[n]) + soft2);
    double z = sign * (own * mean_b[n] + fixed - mean_m[n]) * per_s, a = fabs(z);
    if (a > 9) {
      multiply(n, z > 0 ? 1 - mistaken : mistaken);
      continue;
    }
    int i = (int)(a * TAIL_STEPS + 0.5);
    double r = a - i / (double)TAIL_STEPS, r2 = r * r, *t = tail_table + i * TERMS;
    double tail = t[0] + r * t[1] + r2 * (t[2] + r * t[3] + r2 * (t[4] + r * t[5]));
    double dense = -(t[1] + r * (2 * t[2]) + r2 * (3 * t[3] + r * (4 * t[4]) + r2 * (5 * t[5])));
    double one = mistaken + sure * (z > 0 ? 1 - tail : tail), h = sure * dense / one;
    multiply(n, one);
    double d_m = var_m[n] - own * cov_mb[n], d_b = cov_mb[n] - own * var_b[n];
    double shift = sign * h * per_s, shrink = h * (h + z) * per_s * per_s;
    mean_m[n] -= d_m * shift;
    mean_b[n] -= d_b * shift;
    var_m[n] -= d_m * d_m * shrink;
    cov_mb[n] -= d_m * d_b * shrink;
    var_b[n] -= d_b * d_b * shrink;
    if (!with_error) continue;
    double d_v = cov_mv[n] - own * cov_bv[n];
    mean_v[n] -= d_v * shift;
    var_v[n] -= d_v * d_v * shrink;
    cov_mv[n] -= d_m * d_v * shrink;
    cov_bv[n] -= d_b * d_v * shrink;
  }
}

static inline void weigh(int n, double off, double per_s2) {
  logs[n] -= 0.5 * off * off * per_s2;
  multiply(n, nameplate * sqrt(per_s2));
}

static void read_recovered(double share, double reading, double sd) {
  for (int n = 0; n < NODES; n++) {
    double cov_my = share * var_m[n], cov_by = share * cov_mb[n], per_s2 = 1 / (share * cov_my + sd * sd);
    double off = reading - share * mean_m[n], gain_m = cov_my * per_s2, gain_b = cov_by * per_s2;
    weigh(n, off, per_s2);
    mean_m[n] += gain_m * off;
    mean_b[n] += gain_b * off;
    var_m[n] -= gain_m * cov_my;
    cov_mb[n] -= gain_m * cov_by;
    var_b[n] -= gain_b * cov_by;
  }
}

static void read_level(double into, double sd_v, double reading, double sd) {
  double v2 = sd_v * sd_v;
  for (int n = 0; n < NODES; n++) {
    double cov_my = var_m[n], cov_by = cov_mb[n], per_s2 = 1 / (cov_my + v2 + sd * sd);
    double off = reading - into - mean_m[n];
    double gain_m = cov_my * per_s2, gain_b = cov_by * per_s2, gain_v = v2 * per_s2;
    weigh(n, off, per_s2);
    mean_m[n] += gain_m * off;
    mean_b[n] += gain_b * off;
    mean_v[n] = gain_v * off;
    var_m[n] -= gain_m * cov_my;
    cov_mb[n] -= gain_m * cov_by;
    var_b[n] -= gain_b * cov_by;
    cov_mv[n] = -gain_m * v2;
    cov_bv[n] = -gain_b * v2;
    var_v[n] = v2 - gain_v * v2;
  }
}

static void add(double into, double sd, int with_error) {
  for (int n = 0; n < NODES; n++) {
    mean_m[n] += into + (with_error ? mean_v[n] : 0);
    var_m[n] += with_error ? 2 * cov_mv[n] + var_v[n] : sd * sd;
    if (with_error) cov_mb[n] += cov_bv[n];
  }
}

static void weights(void) {
  double largest = -INFINITY, sum = 0;
  for (int n = 0; n < NODES; n++)
    if (logs[n] > largest) largest = logs[n];
  for (int n = 0; n < NODES; n++) {
    double below = logs[n] - largest;
    weight[n] = below < -1400 ? 0 : linear[n] * exp_negative(-below);
    sum += weight[n];
  }
  for (int n = 0; n < NODES; n++) weight[n] /= sum;
}

static void repair(double holds, const double *sound) {
  double m = 0, b = 0, mm = 0, mb = 0, bb = 0;
  rectify();
  weights();
  for (int n = 0; n < NODES; n++) m += weight[n] * mean_m[n], b += weight[n] * mean_b[n];
  for (int n = 0; n < NODES; n++) {
    double from_m = mean_m[n] - m, from_b = mean_b[n] - b;
    mm += weight[n] * (var_m[n] + from_m * from_m);
    mb += weight[n] * (cov_mb[n] + from_m * from_b);
    bb += weight[n] * (var_b[n] + from_b * from_b);
  }
  for (int n = 0; n < NODES; n++) {
    mean_m[n] = m, mean_b[n] = b, var_m[n] = mm, cov_mb[n] = mb, var_b[n] = bb, logs[n] = 0;
    linear[n] = holds * sound[n] + (1 - holds) * (0.5 * weight[n] + 0.5 * prior[n]);
  }
}

static const double *start(const double *at) {
  nameplate = at[0];
  memcpy(k, at + 5, sizeof k);
  memcpy(prior, at + 5 + X_COUNT, sizeof prior);
  memcpy(linear, prior, sizeof prior);
  for (int n = 0; n < NODES; n++) mean_m[n] = at[1], var_m[n] = at[2], mean_b[n] = at[3], var_b[n] = at[4];
  memset(cov_mb, 0, sizeof cov_mb);
  memset(logs, 0, sizeof logs);
  return at + 5 + X_COUNT + NODES;
}

static void run(const double *at, const double *end) {
  while (at < end) switch ((int)*at++) {
    case START: at = start(at); break;
    case MOVE: move(at, at + G_COUNT), at += 2 * G_COUNT; break;
    case RECTIFY: rectify(); break;
    case RECOVERED: read_recovered(at[0], at[1], at[2]), at += 3; break;
    case LEVEL: read_level(at[0], at[1], at[2], at[3]), at += 4; break;
    case LOOK: look(at[0], at[1], at[2], at[3], at[4], at[5] != 0), at += 6; break;
    case SET:
      for (int n = 0; n < NODES; n++) mean_m[n] = at[0], var_m[n] = at[1], cov_mb[n] = 0;
      at += 2;
      break;
    case ADD: add(at[0], at[1], at[2] != 0), at += 3; break;
    case CAP:
      for (int n = 0; n < NODES; n++) mean_m[n] = mean_m[n] < at[0] ? mean_m[n] : at[0];
      at++;
      break;
    case REPAIR: repair(at[0], at + 1), at += 1 + NODES; break;
    default: exit(2);
  }
  weights();
}

static void write_nodes(void) {
  write_all(weight, NODES);
  write_all(mean_m, NODES);
}

int main(void) {
  make_tables();
  time_and_write(run, write_nodes);
  return 0;
}
