/** What is said to whoever started a program that could not start: in words, with what to do, where that is known. */
export function startWords(reason: unknown, node: string = process.versions.node): string {
  const words = reason instanceof Error ? reason.message : String(reason)
  const code = reason instanceof Error && 'code' in reason ? reason.code : ''
  if (code === 'EADDRINUSE') return `${words}\nAnother program is already listening there. Set PORT to another number.`
  if (code === 'ERR_DLOPEN_FAILED' || words.startsWith('Could not locate the bindings file'))
    return (
      `The database driver in node_modules does not match this Node (${node}); it was installed with another one, or for another machine. Nothing was changed.\n` +
      'Run npm ci with this Node, and start again. Where no prebuilt driver can be reached it is compiled, which needs Python 3, make and a C++ compiler.'
    )
  return words
}
