// What a person reads, with its file and line, for reading through in one go: `npm run words`, or `npm run words app/\(bench\)` for a part.
// The parser of TypeScript finds the texts; keys, class names, SQL, paths and lines of the log are left out.
import { readdirSync, readFileSync } from 'node:fs'
import { join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import ts from 'typescript'

const root = fileURLToPath(new URL('../..', import.meta.url))
const FOLDERS = ['app', 'server', 'seed']
const PROSE = ['README.md', 'public/certificate-format.md', 'public/history-format.md', 'public/security.md']
const ALONE = ['public/tagstrip-check.mjs', 'public/check-worker.js']

/** Attributes that hold no words: a machine reads them. */
const NO_WORDS = new Set(
  'accept action allow as autoCapitalize autoComplete class className crossOrigin d dateTime dir encType enterKeyHint fill form formAction height href htmlFor id inputMode key kind lang method name pattern points preserveAspectRatio property referrerPolicy rel role sandbox sizes src srcSet stroke style suppressHydrationWarning tabIndex target textAnchor to transform type value variant viewBox width xmlns aria-controls aria-current aria-describedby aria-hidden aria-labelledby aria-live aria-owns'.split(
    ' ',
  ),
)
const SQL =
  /^\s*(?:select|insert|update|delete|create|alter|drop|pragma|with|begin|commit|rollback|attach|detach|vacuum|analyze|where|and|or|order by|group by|union|join|left join|savepoint|release)\s[\s\S]*(?:from|into|set|table|index|trigger|=|\(|;|journal|immediate|to|wal)/i
const LOGGED = new Set(['debug', 'error', 'fatal', 'info', 'trace', 'warn'])
const UNREAD = new Set(['invariant', 'prepare', 'exec', 'pragma', 'createHash', 'URL', 'RegExp', 'require', 'fetch', 'log'])

function* filesIn(folder) {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name)
    if (entry.isDirectory()) yield* filesIn(path)
    else if (/\.(?:tsx?|mjs)$/.test(entry.name) && !entry.name.endsWith('.d.ts')) yield path
  }
}

const plain = (text) => text.replace(/\s+/g, ' ')

/** The pieces of a template with an ellipsis where something is filled in. */
function ofTemplate(node) {
  return node.head.text + node.templateSpans.map(({ literal }) => `…${literal.text}`).join('')
}

/** What an element shows, what is filled in as an ellipsis; the elements inside it are read with it. */
function ofElement(element) {
  return element.children
    .map((child) => {
      if (ts.isJsxText(child)) return child.text
      if (ts.isJsxElement(child) || ts.isJsxFragment(child)) return ofElement(child)
      if (ts.isJsxSelfClosingElement(child)) return ' … '
      const { expression } = child
      if (!expression) return ''
      return ts.isStringLiteralLike(expression) ? expression.text : '…'
    })
    .join('')
}

const hasOwnText = (node) => node.children.some((child) => ts.isJsxText(child) && child.text.trim() !== '')
const calledName = ({ expression }) => (ts.isPropertyAccessExpression(expression) ? expression.name.text : expression.getText())

function isUnread(node) {
  if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node) || ts.isTypeNode(node)) return true
  if (ts.isTaggedTemplateExpression(node)) return true
  if (ts.isJsxAttribute(node)) return NO_WORDS.has(node.name.getText()) || node.name.getText().startsWith('data-')
  if (!ts.isCallExpression(node) && !ts.isNewExpression(node)) return false
  const name = calledName(node)
  if (UNREAD.has(name)) return true
  return (
    ts.isPropertyAccessExpression(node.expression) &&
    LOGGED.has(name) &&
    /\b(?:log|logger|console)\b/.test(node.expression.expression.getText())
  )
}

/** Two words or more, or one that begins like a label; never a path, a pattern, a colour or a class. */
function looksRead(text, inWords) {
  const said = text.trim()
  if (!/\p{L}{2}/u.test(said) || SQL.test(said)) return false
  if (/^[\w./:#@%+=&?…[\]{}()*,;-]*$/.test(said)) return inWords || /^\p{Lu}\p{Ll}+[.:?]?$/u.test(said)
  return /\p{L}{2}/u.test(said.replace(/…/g, '')) && /\s|\p{L}[.!?]$/u.test(said)
}

/** Inside an element or an attribute that is read, a single word is read too. */
function standsInWords(node) {
  for (let up = node.parent; up; up = up.parent) {
    if (ts.isConditionalExpression(up)) {
      if (node.pos >= up.condition.pos && node.end <= up.condition.end) return false
      continue
    }
    if (ts.isBinaryExpression(up)) {
      if (!['??', '||', '&&', '+'].includes(up.operatorToken.getText())) return false
      continue
    }
    if (ts.isParenthesizedExpression(up)) continue
    if (ts.isJsxAttribute(up)) return !NO_WORDS.has(up.name.getText())
    return ts.isJsxExpression(up)
  }
  return false
}

export function wordsIn(file, source) {
  const tree = ts.createSourceFile(file, source, ts.ScriptTarget.Latest, true)
  const found = []
  const take = (node, text) => {
    const said = plain(text).trim()
    if (said) found.push({ file, line: tree.getLineAndCharacterOfPosition(node.getStart()).line + 1, text: said })
  }
  const walk = (node, read) => {
    if (isUnread(node)) return
    let within = read
    if ((ts.isJsxElement(node) || ts.isJsxFragment(node)) && hasOwnText(node)) {
      if (!read && /\p{L}/u.test(ofElement(node).replace(/…/g, ''))) take(node, ofElement(node))
      within = true
    }
    if (ts.isJsxExpression(node) || ts.isJsxAttribute(node)) within = false
    if (ts.isTemplateExpression(node)) {
      if (looksRead(ofTemplate(node), false)) take(node, ofTemplate(node))
    } else if (ts.isStringLiteralLike(node) && !ts.isPropertyAssignment(node.parent?.name === node ? node.parent : tree)) {
      if (looksRead(node.text, standsInWords(node))) take(node, node.text)
    }
    ts.forEachChild(node, (child) => walk(child, within))
  }
  walk(tree, false)
  return found
}

/** Paragraph by paragraph, without the blocks of code. */
export function proseIn(file, source) {
  const found = []
  let fenced = false
  for (const [at, line] of source.split('\n').entries()) {
    if (line.startsWith('```')) fenced = !fenced
    else if (!fenced && /\p{L}/u.test(line)) found.push({ file, line: at + 1, text: line.trim() })
  }
  return found
}

const sourceOf = (file) => readFileSync(join(root, file), 'utf8')

export function wordsRead() {
  const files = FOLDERS.flatMap((folder) => [...filesIn(join(root, folder))].map((path) => relative(root, path)).sort())
  return [
    ...[...files, ...ALONE].flatMap((file) => wordsIn(file, sourceOf(file))),
    ...PROSE.flatMap((file) => proseIn(file, sourceOf(file))),
  ]
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [part = ''] = process.argv.slice(2)
  let last = ''
  for (const { file, line, text } of wordsRead()) {
    if (!file.startsWith(part)) continue
    if (file !== last) process.stdout.write(`\n${file}\n`)
    last = file
    process.stdout.write(`${String(line).padStart(5)}  ${text}\n`)
  }
}
