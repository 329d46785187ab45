/** The answer, or null where the house says that there is no such thing: the page then shows the one for that. */
export async function foundOr<T>(ask: () => Promise<T>): Promise<T | null> {
  try {
    return await ask()
  } catch (reason) {
    const code = typeof reason === 'object' && reason !== null && 'code' in reason ? reason.code : null
    if (code === 'NOT_FOUND' || code === 'BAD_REQUEST') return null
    throw reason
  }
}
