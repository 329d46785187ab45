/** Whether a process of this number runs. The number may be that of another by now. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (reason) {
    // It runs, as somebody else.
    return reason instanceof Error && 'code' in reason && reason.code === 'EPERM'
  }
}
