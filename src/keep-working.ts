/**
 * Work that goes on between requests of a server: `step` is called until it says that nothing is left, and other
 * requests have their turn after each. A key that is being worked on is not begun again.
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
