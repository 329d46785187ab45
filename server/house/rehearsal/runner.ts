import { type ChildProcess, spawn } from 'node:child_process'
import { join } from 'node:path'
import { notHere, type Rehearsal } from '#air/rehearsal/rehearsal'
import type { FromRehearsal, RehearsalReport, RehearsalView } from '#air/rehearsal/rehearsal.contract'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import type { Log } from '#runtime/settings/log'
import { addressFor } from './pass'

/** Starts rehearsals of the house from its own page: one at a time, in a process beside it. */
export function openRunner({ root, log }: { root: string; log: Log }): Rehearsal & { close(): void } {
  let child: ChildProcess | null = null
  let state: Extract<RehearsalView, { is: 'house' }>['state'] = 'none'
  let opened: { url: string; key: string } | null = null
  let report: RehearsalReport | null = null

  const hear = (raw: unknown) => {
    const message = raw as FromRehearsal
    if (message.tell === 'open') {
      state = 'open'
      opened = { url: message.url, key: message.key }
    }
    if (message.tell === 'over') {
      state = 'over'
      report = message.report
    }
    if (message.tell === 'failed') log.error({ words: message.words }, 'the rehearsal failed')
  }

  return {
    view: (sight, reader) => ({
      is: 'house',
      state,
      address: opened && reader ? addressFor(opened, reader.personId) : '',
      report,
      zone: findCampaign(sight)?.zone ?? 'UTC',
    }),
    start() {
      if (child) throw new Refusal('conflict', 'A rehearsal is already running. Stop it first.')
      state = 'opening'
      report = null
      const started = spawn(process.execPath, [join(root, 'dist', 'rehearse.mjs')], {
        cwd: root,
        stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
      })
      child = started
      started.on('message', hear)
      started.on('error', (reason) => log.error({ err: reason }, 'the rehearsal could not be started'))
      started.on('exit', (code) => {
        child = null
        opened = null
        state = code === 0 || report ? 'none' : 'failed'
      })
    },
    stop: () => void child?.kill('SIGTERM'),
    cause: async () => notHere(),
    setPace: () => notHere(),
    whoHolds: () => null,
    close: () => void child?.kill('SIGTERM'),
  }
}
