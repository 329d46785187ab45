// Next runs this in the browser before anything else of a page. Shapes are checked there without making code out of
// text, which the pages' policy forbids: trying whether it may would be reported by every browser. It is said here in
// the library's own global, since importing it would bring the library to pages that check nothing.
Object.assign(globalThis, { __zod_globalConfig: { jitless: true } })

// A page that a browser takes out of its memory again, as going back does, shows what stood there then, and to whom: it is asked for anew.
addEventListener('pageshow', ({ persisted }) => persisted && location.reload())

export {}
