/**
 * Work between a server's requests: `step` is called until it reports that nothing is left, and other requests get
 * their turn after each call. Work under a key that is already running is not started again.
 */
export function keepWorking(report: (error: unknown) => void): (key: string, step: () => Promise<boolean>) => void {
  const busy = new Set<string>();
  return function keepWorking(key, step) {
    if (busy.has(key)) return;
    busy.add(key);
    const work = async () => {
      try {
        while (await step()) await new Promise((resume) => setImmediate(resume));
      } catch (error) {
        report(error);
      } finally {
        busy.delete(key);
      }
    };
    void work();
  };
}
