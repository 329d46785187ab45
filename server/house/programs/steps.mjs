// What takes a while is told while it goes on: each step with its seconds, on one line that moves where somebody looks at a terminal.
import { spawn } from 'node:child_process'

/** Runs commands as steps, side by side where they are begun so. What a command says is kept back, and told when it fails. */
export function openSteps(out = process.stdout) {
  const going = []
  let timer = null
  const seconds = (step) => Math.round((performance.now() - step.began) / 1000)
  const clear = () => out.isTTY && out.write('\r\u001b[K')
  const draw = () => {
    clear()
    const line = going.map((step) => `${step.words} … ${seconds(step)} s`).join(' · ')
    out.write(`• ${line.slice(0, (out.columns ?? 80) - 3)}`)
  }
  const began = (words) => {
    const step = { words, began: performance.now() }
    going.push(step)
    if (!out.isTTY) out.write(`• ${words}\n`)
    else {
      draw()
      timer ??= setInterval(draw, 500)
    }
    return step
  }
  const ended = (step) => {
    going.splice(going.indexOf(step), 1)
    if (going.length === 0 && timer) {
      clearInterval(timer)
      timer = null
    }
    clear()
    out.write(`• ${step.words}: ${seconds(step)} s\n`)
    if (out.isTTY && going.length > 0) draw()
  }
  return {
    say(words) {
      clear()
      out.write(`• ${words}\n`)
    },
    /** Resolves when the command has ended well; else says what it said, and ends this program. */
    async run(words, command, args, options = {}) {
      const step = began(words)
      const { status, said } = await ran(command, args, options)
      if (status === 0) return ended(step)
      clear()
      if (timer) clearInterval(timer)
      process.stderr.write(`${said}\n${words} failed: ${command} ${args.join(' ')} ended with ${status}. What it said is above.\n`)
      process.exit(1)
    },
  }
}

function ran(command, args, options) {
  return new Promise((resolve) => {
    let said = ''
    const child = spawn(command, args, { stdio: ['ignore', 'pipe', 'pipe'], ...options })
    for (const from of [child.stdout, child.stderr])
      from.on('data', (part) => {
        said += part
      })
    child.on('error', ({ message }) => resolve({ status: 'an error', said: `${said}${message}` }))
    child.on('close', (code, signal) => resolve({ status: code ?? signal, said }))
  })
}
