/**
 * Starts what takes seconds to start once in a process, for all test files that run in it. Closing it does nothing: it
 * ends with the process, which the Workers runtime sees to itself.
 */
export function once<T extends { close(): Promise<void> }>(start: () => Promise<T>): () => Promise<T> {
  let started: Promise<T> | undefined;
  return async () => {
    started ??= start();
    return { ...(await started), close: async () => {} };
  };
}
