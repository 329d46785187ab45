// `npm run ordeal`: builds the house and the ordeal where they are older than their sources, and runs it.
import { spawn } from 'node:child_process'
import { checkNode, ensureReady } from '../../server/house/programs/ready.mjs'
import { bundleOf } from './bundle.mjs'

checkNode()
await ensureReady()
const program = await bundleOf('main')
const child = spawn(process.execPath, ['--enable-source-maps', program, ...process.argv.slice(2)], { stdio: 'inherit' })
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => child.kill(signal))
child.on('exit', (code) => process.exit(code ?? 1))
