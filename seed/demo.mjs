// `npm run demo`: installs, builds, tells the story of a campaign around the present, and serves it.
import { spawn } from 'node:child_process'
import { cpSync, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { checkNode, ensureReady } from '../server/house/programs/ready.mjs'
import { openSteps } from '../server/house/programs/steps.mjs'

process.chdir(join(import.meta.dirname, '..'))
const steps = openSteps()
const { say } = steps
const port = process.env.PORT || '4170'
const dataDir = process.env.DATA_DIR || './data/demo'
const address = process.env.PUBLIC_URL || `http://localhost:${port}`
const env = {
  ...process.env,
  PORT: port,
  DATA_DIR: dataDir,
  DEMO: '1',
  LOG_LEVEL: process.env.LOG_LEVEL || 'warn',
  NEXT_TELEMETRY_DISABLED: '1',
  NODE_ENV: 'production',
}

checkNode()
const database = join(dataDir, 'tagstrip.db')
await ensureReady(steps, tellTheStory)

const closesAt = await streamClosesAt()
if (closesAt !== null && closesAt < Date.now())
  say('the day of this demo is over; for a new one around the present: npm run demo -- --fresh')

say('opening the house')
const child = spawn(process.execPath, ['dist/server.mjs'], { stdio: ['ignore', 'inherit', 'inherit'], env })
let stopping = false
for (const signal of ['SIGINT', 'SIGTERM']) {
  process.on(signal, () => {
    stopping = true
    child.kill('SIGTERM')
  })
}
child.on('exit', (code) => {
  if (stopping) console.log('\nThe house is closed; the data stays.')
  process.exit(stopping ? 0 : (code ?? 1))
})
await untilOpen()
console.log(`
Tagstrip is open at ${address}

  Who can sign in: step into any role at ${address}/demo
  (maker, volunteer, treasurer, host, and bidders with a paddle), or sign in
  with any mail address at ${address}/sign-in: the page shows the code.
  Ctrl-C closes the house; the data stays in ${dataDir}.
`)

/** The story needs the server alone, so it is told while the pages are built. */
async function tellTheStory() {
  if (process.argv.includes('--fresh') && existsSync(dataDir)) {
    say('clearing the last demo away')
    if (await isRealCampaign()) {
      console.error(`${dataDir} holds a campaign that is not the demo's. Nothing was cleared; set DATA_DIR to another folder.`)
      process.exit(1)
    }
    rmSync(dataDir, { recursive: true })
  }
  if (existsSync(database)) return
  // Told aside, so that a story that was broken off is no demo.
  const aside = `${dataDir}.part`
  rmSync(aside, { recursive: true, force: true })
  mkdirSync(aside, { recursive: true, mode: 0o700 })
  const told = { env: { ...env, DATA_DIR: aside } }
  await steps.run('telling the story so far: gifts, parts, machines, readings, bids', process.execPath, ['dist/seed.mjs'], told)
  if (existsSync(dataDir)) cpSync(aside, dataDir, { recursive: true })
  else renameSync(aside, dataDir)
  rmSync(aside, { recursive: true, force: true })
}

async function untilOpen() {
  for (let tries = 0; tries < 300 && !stopping; tries++) {
    const answer = await fetch(`http://127.0.0.1:${port}/api/health`).catch(() => null)
    if (answer?.ok) return
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  if (stopping) return
  console.error('The house did not open within 30 seconds. What it said is above.')
  child.kill('SIGTERM')
}

async function read(sql) {
  const { default: Database } = await import('better-sqlite3')
  const db = new Database(database, { readonly: true })
  try {
    return db.prepare(sql).pluck().get() ?? null
  } finally {
    db.close()
  }
}

async function streamClosesAt() {
  return read('SELECT stream_closes_at FROM campaign')
}

async function isRealCampaign() {
  return existsSync(database) && (await read('SELECT is_demo FROM campaign').catch(() => null)) === 0
}
