/*
 * The years ahead of every node (src/core/options/futures.ts) in plain C, as a baseline for their speed: events one by
 * one, each counted under every switch rule that still tops off.
 *
 * Reads doubles from stdin: rounds, questions, then for each question the number of doubles that follow it and its
 * numbers (see walk-input.ts). Writes doubles to stdout: milliseconds a question (the least of the rounds, mean over
 * questions), then for each question its tallies: topping off by node and rule, its mean by rule, repair today, repair
 * after the dye by node, its mean.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "io.h"

enum { VISITS, CANS, REFRIGERANT, TOOLS, LOWS, FIX, FIX_GROWN, RELAPSE, RELEASE, SOUND, WIDTH };
enum { SEEP_RATES = 4 };

/* A top-off for seep alone: how long after the repair, what it counts for beside it, whether the first at its rate. */
typedef struct {
  double after, fade, grown, survival;
  int first;
} seep_event;

static int nodes, clocks, last, rules;
static double years, fade, net_fade, hazard, nameplate, repair_share, dye_wait;
static int top_up_now, diy, pierced;
static double last_fill, heel, can_net, low_fraction, seep_fraction, seep_sd;
static const double *seep_points, *rule, *season, *clock_table, *surviving_table;
static const double *weight, *k, *mean_m, *mean_b, *clock_of;
static seep_event *seep;
static int seeps;
static double *out;

static void read_question(const double *at) {
  nodes = (int)*at++, clocks = (int)*at++, last = (int)*at++, rules = (int)*at++;
  years = *at++, fade = *at++, net_fade = *at++, hazard = *at++, nameplate = *at++, repair_share = *at++;
  dye_wait = *at++, top_up_now = (int)*at++, last_fill = *at++, diy = (int)*at++, pierced = (int)*at++;
  heel = *at++, can_net = *at++, low_fraction = *at++, seep_fraction = *at++, seep_sd = *at++;
  seep_points = at, at += SEEP_RATES;
  rule = at, at += rules;
  season = at, at += last + 1;
  clock_table = at, at += clocks * (last + 1);
  surviving_table = at, at += clocks * (last + 1);
  weight = at, k = at + nodes, mean_m = at + 2 * nodes, mean_b = at + 3 * nodes, clock_of = at + 4 * nodes;
}

static size_t values_of_question(void) { return (size_t)WIDTH * ((nodes + 1) * (rules + 1) + 1); }

static void make_seep(void) {
  seeps = 0;
  for (int i = 0; i < SEEP_RATES; i++) {
    double spell = (1 - low_fraction) / (seep_fraction * exp(seep_sd * seep_points[i]));
    for (double t = spell; t < years; t += spell) {
      seep = realloc(seep, (seeps + 1) * sizeof *seep);
      seep[seeps++] = (seep_event){t, exp(-fade * t), exp(-net_fade * t), exp(-hazard * t), t == spell};
    }
  }
}

static double units(double grams) {
  if (!diy) return grams;
  double cans = grams / (1 - heel) / can_net;
  return pierced ? ceil(cans - 1e-9) : cans;
}

static double heel_release(double grams) { return diy ? grams * heel / (1 - heel) : 0; }

static double at_time(const double *table, double t) {
  int j = (int)(12 * t);
  if (j > last - 1) j = last - 1;
  return table[j] + (table[j + 1] - table[j]) * (12 * t - j);
}

/* Integral of e^(-rate u) from t to the horizon, where that is `now` at t. */
static double faded_from(double rate, double t, double now) {
  return fabs(rate) < 1e-12 ? years - t : now * -expm1(-rate * (years - t)) / rate;
}

/* The row of a repair at t and of the sound years after it. */
static void repair(double t, int with_tools, double *row) {
  double faded = exp(-fade * t), grown = exp(-net_fade * t), survived = exp(-hazard * t);
  double grams = (1 - low_fraction) * nameplate, share = 1. / SEEP_RATES;
  memset(row, 0, WIDTH * sizeof *row);
  row[FIX] = faded;
  row[FIX_GROWN] = grown;
  row[RELAPSE] = faded_from(fade, t, faded);
  row[RELEASE] = repair_share * nameplate * survived;
  row[SOUND] = faded_from(hazard, t, survived);
  for (int i = 0; i < seeps; i++) {
    if (t + seep[i].after >= years) continue;
    double counts = share * faded * seep[i].fade;
    row[VISITS] += counts;
    row[LOWS] += counts;
    row[REFRIGERANT] += share * grown * seep[i].grown * units(grams);
    if (with_tools && seep[i].first) row[TOOLS] += counts;
    if (!diy) continue;
    row[CANS] += counts * units(grams);
    row[RELEASE] += share * survived * seep[i].survival * heel_release(grams);
  }
}

/* A top-off under the first `active` rules. */
static void top_off(double t, double grams, int first, int active, double *rows) {
  double faded = exp(-fade * t), used = units(grams), grown = exp(-net_fade * t) * used;
  double released = diy ? exp(-hazard * t) * heel_release(grams) : 0;
  for (int r = 0; r < active; r++) {
    double *row = rows + r * WIDTH;
    row[VISITS] += faded;
    row[REFRIGERANT] += grown;
    if (first) row[TOOLS] += faded;
    if (t > 0) row[LOWS] += faded;
    if (!diy) continue;
    row[CANS] += faded * used;
    row[RELEASE] += released;
  }
}

/* Topping off one node: a row for each rule. */
static void walk(int n, double *rows) {
  const double *clock = clock_table + (int)clock_of[n] * (last + 1);
  const double *surviving = surviving_table + (int)clock_of[n] * (last + 1);
  double low = fmin(0.9 * nameplate, fmax(0.1 * nameplate, mean_b[n])), full = nameplate - low;
  double due = fmax(0, mean_m[n] - low) / k[n], grams = mean_m[n] < low ? nameplate - mean_m[n] : full;
  double from = last_fill, ended[WIDTH];
  int active = rules, j = 0, topped_off = 0;
  if (top_up_now) {
    if (nameplate > mean_m[n]) top_off(0, nameplate - mean_m[n], !topped_off++, active, rows);
    due = (fmax(mean_m[n], nameplate) - low) / k[n];
    grams = full;
    from = 0;
  }
  while (active > 0 && due <= clock[last]) {
    while (clock[j + 1] < due) j++;
    double rise = clock[j + 1] - clock[j], part = rise > 0 ? (due - clock[j]) / rise : 0, t = (j + part) / 12;
    if (t >= years) break;
    double here = season[j] + (season[j + 1] - season[j]) * part;
    if (rule[active - 1] > here - from) {
      repair(t, !topped_off, ended);
      if (t > 0) ended[LOWS] += exp(-fade * t);
      ended[RELEASE] += k[n] * at_time(surviving, t);
      for (; active > 0 && rule[active - 1] > here - from; active--)
        for (int c = 0; c < WIDTH; c++) rows[(active - 1) * WIDTH + c] += ended[c];
    }
    if (grams > 0) top_off(t, grams, !topped_off++, active, rows);
    from = here;
    due += full / k[n];
    grams = full;
  }
  for (int r = 0; r < active; r++) rows[r * WIDTH + RELEASE] += k[n] * at_time(surviving, years);
}

/* A top-up now where one is due, the leak until the dye is looked for, and the repair then. */
static void repair_after_dye(int n, double *row) {
  double wait = fmin(dye_wait, years), grams = top_up_now ? fmax(0, nameplate - mean_m[n]) : 0;
  repair(wait, grams <= 0, row);
  if (grams > 0) top_off(0, grams, 1, 1, row);
  row[RELEASE] += k[n] * at_time(surviving_table + (int)clock_of[n] * (last + 1), wait);
}

static void run(const double *at, const double *end) {
  (void)end;
  read_question(at);
  out = realloc(out, values_of_question() * sizeof *out);
  memset(out, 0, values_of_question() * sizeof *out);
  make_seep();
  double *mean = out + nodes * rules * WIDTH, *today = mean + rules * WIDTH, *dye = today + WIDTH;
  double *dye_mean = dye + nodes * WIDTH;
  repair(0, 1, today);
  for (int n = 0; n < nodes; n++) {
    double *rows = out + n * rules * WIDTH;
    walk(n, rows);
    for (int c = 0; c < rules * WIDTH; c++) mean[c] += weight[n] * rows[c];
    repair_after_dye(n, dye + n * WIDTH);
    for (int c = 0; c < WIDTH; c++) dye_mean[c] += weight[n] * dye[n * WIDTH + c];
  }
}

static void write_out(void) { write_all(out, values_of_question()); }

int main(void) {
  time_and_write(run, write_out);
  return 0;
}
