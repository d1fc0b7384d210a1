/**
 * The spans of time that top-offs are counted in: months from the assessment date, cut once more wherever one of the
 * given horizons ends within a month.
 */
export class Spans {
  /** Number of spans. */
  readonly count: number;
  /** Where each span begins, years ahead, and after the last where it ends. */
  readonly edges: Float64Array;
  /** The middle of each span, years ahead. */
  readonly middle: Float64Array;
  /** The first span of each month, and after the last month the number of spans. */
  readonly #of_month: Int32Array;

  /** `ends`: horizons, years ahead; nothing is counted beyond the last. */
  constructor(ends: readonly number[]) {
    const years = Math.max(...ends);
    const months = Math.ceil(12 * years);
    const within = ends.filter((end) => !Number.isInteger(12 * end)).toSorted((a, b) => a - b);
    const edges: number[] = [];
    this.#of_month = new Int32Array(months + 1);
    for (let j = 0, i = 0; j < months; j++) {
      this.#of_month[j] = edges.length;
      edges.push(j / 12);
      for (; i < within.length && within[i]! < (j + 1) / 12; i++) {
        if (within[i]! > edges[edges.length - 1]!) edges.push(within[i]!);
      }
    }
    // Where the last month is cut, nothing after the cut counts.
    if (edges[edges.length - 1]! < years) edges.push(years);
    this.edges = Float64Array.from(edges);
    this.count = edges.length - 1;
    this.#of_month[months] = this.count;
    this.middle = new Float64Array(this.count);
    for (let s = 0; s < this.count; s++) this.middle[s] = 0.5 * (edges[s]! + edges[s + 1]!);
  }

  /** How far the spans go, years ahead. */
  get years(): number {
    return this.edges[this.count]!;
  }

  /** The span that `t`, years ahead, falls in; at an edge that which begins there, and beyond the last their number. */
  at(t: number): number {
    const { edges, count } = this;
    if (t >= edges[count]!) return count;
    let s = this.#of_month[Math.floor(12 * t)]!;
    while (t >= edges[s + 1]!) s++;
    while (t < edges[s]!) s--;
    return s;
  }
}
