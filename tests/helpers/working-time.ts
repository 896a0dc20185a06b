/** Time this thread has worked, in ms: on a busy machine, waiting for its turn counts for nothing. */
export function workingMs(): number {
  const { user, system } = process.threadCpuUsage();
  return (user + system) / 1000;
}
