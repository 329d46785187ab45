import type { AddressInfo } from 'node:net'
import { text } from 'node:stream/consumers'
import { SMTPServer } from 'smtp-server'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { DAY, MINUTE } from '#kernel/instant'
import { openPostman, type Postman } from '#people/outbox/postman'
import { openLog } from '#runtime/settings/log'
import { openStage, type Stage } from '#test/stage'

// Against a real mail server on this machine (the library `smtp-server`): what is said on the wire is what counts.
let stage: Stage
let server: SMTPServer
let postman: Postman
let came: { from: string; to: string[]; words: string }[]
let refuses: { code: number; to: string } | null

beforeEach(async () => {
  stage = openStage()
  came = []
  refuses = null
  server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onRcptTo({ address }, _session, done) {
      if (refuses?.to === address) done(Object.assign(new Error('no such mailbox here'), { responseCode: refuses.code }))
      else done()
    },
    onData(stream, { envelope }, done) {
      text(stream).then((words) => {
        came.push({
          from: envelope.mailFrom ? envelope.mailFrom.address : '',
          to: envelope.rcptTo.map(({ address }) => address),
          words: words.replaceAll('\r\n', '\n'),
        })
        done()
      }, done)
    },
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  postman = postmanTo((server.server.address() as AddressInfo).port)
})

afterEach(async () => {
  postman.stop()
  await new Promise<void>((resolve) => server.close(resolve))
  stage.close()
})

const postmanTo = (port: number): Postman =>
  openPostman({
    sight: stage.house.sight,
    queue: stage.house.queue,
    smtpUrl: `smtp://127.0.0.1:${port}`,
    from: 'Long Bench Day <bench@longbench.example>',
    log: openLog('silent'),
  })

const write = (to: string, subject = 'Lot 1, Wörter und £', body = 'Dear Åse,\n\nthe hammer fell at £165.00.') =>
  stage.command((turn) => turn.post({ to, subject, body }))
const outbox = async () => (await stage.as('maker')).outbox.list()

describe('the postman', () => {
  it('carries a letter once, with its words whole and its id as Message-ID', async () => {
    await write('ase@dahl.example')
    await postman.carry()
    await postman.carry()
    expect(came).toHaveLength(1)
    const [{ from, to, words }] = came as [(typeof came)[number]]
    expect([from, to]).toEqual(['bench@longbench.example', ['ase@dahl.example']])
    expect(words).toContain(`Message-ID: <${stage.letters()[0]?.id}@tagstrip>`)
    // RFC 2047: a subject beyond ASCII goes as an encoded word.
    expect(words).toMatch(/Subject: =\?UTF-8\?[QB]\?/)
    expect(words).toMatch(/the hammer fell at (=C2=A3|£)165\.00/)
    expect(await outbox()).toMatchObject([{ sentAt: stage.clock.now(), lastError: null }])
  })

  it('does not try a mailbox again that the server refused for good, and others go all the same', async () => {
    refuses = { code: 550, to: 'gone@away.example' }
    for (let n = 0; n < 21; n++) await write('gone@away.example', `Number ${n}`)
    await write('ase@dahl.example')
    await postman.carry()
    await postman.carry()
    expect(came.map(({ to }) => to)).toEqual([['ase@dahl.example']])
    const refused = (await outbox()).filter(({ recipient }) => recipient === 'gone@away.example')
    expect(refused).toHaveLength(21)
    expect(refused.every(({ isGivenUp, lastError }) => isGivenUp && lastError?.includes('no such mailbox here'))).toBe(true)
  })

  it('tries again later what was refused for now, each time twice as late', async () => {
    refuses = { code: 451, to: 'ase@dahl.example' }
    await write('ase@dahl.example')
    await postman.carry()
    expect(await outbox()).toMatchObject([{ tries: 1, isGivenUp: false, sentAt: null }])
    refuses = null
    stage.clock.pass(MINUTE - 1)
    await postman.carry()
    expect(came).toHaveLength(0)
    stage.clock.pass(1)
    await postman.carry()
    expect(came).toHaveLength(1)
  })

  it('keeps every letter while no server answers, gives up after some days, and tries again when it is told to', async () => {
    postman.stop()
    postman = postmanTo(9)
    await write('ase@dahl.example')
    for (let n = 0; n < 13; n++) {
      await postman.carry()
      stage.clock.pass(3 * DAY)
    }
    const [letter] = await outbox()
    expect(letter).toMatchObject({ tries: 12, isGivenUp: true, sentAt: null })
    postman.stop()
    postman = postmanTo((server.server.address() as AddressInfo).port)
    await postman.carry()
    expect(came).toHaveLength(0)
    await (await stage.as('maker')).outbox.again({ id: letter?.id ?? '' })
    await postman.carry()
    expect(came).toHaveLength(1)
    await expect((await stage.as('maker')).outbox.again({ id: letter?.id ?? '' })).rejects.toThrow('It has gone already.')
  })

  it('puts no line of its own into the head of a letter, whatever a subject holds', async () => {
    await write('ase@dahl.example', 'Lot 1\r\nBcc: all@others.example')
    await postman.carry()
    expect(came).toMatchObject([{ to: ['ase@dahl.example'] }])
    expect(came[0]?.words).not.toMatch(/^Bcc:/m)
  })
})
