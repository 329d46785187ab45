import type { AddressInfo } from 'node:net'
import { text } from 'node:stream/consumers'
import { eq } from 'drizzle-orm'
import { SMTPServer } from 'smtp-server'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { letter } from '#db/schema/index'
import { DAY, MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { isLoopback, mailServerOf } from '#people/outbox/mail-server.rules'
import { openPostman, type Postman } from '#people/outbox/postman'
import { READER_PLACE } from '#people/outbox/sealed-words'
import { CODE_PLACE } from '#people/sign-in/sealed-code'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { openStage, type Stage } from '#test/stage'

// Against a real mail server on this machine (the library `smtp-server`): what is said on the wire is what counts.
let stage: Stage
let server: SMTPServer
let postman: Postman
let came: { from: string; to: string[]; words: string }[]
let refuses: { code: number; to: string } | null
/** A mailbox that the server takes a letter for only once it is told to. */
let slow: string
let isSlowUnderWay: boolean
let goOn: () => void

beforeEach(async () => {
  stage = openStage()
  came = []
  refuses = null
  slow = ''
  isSlowUnderWay = false
  server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onRcptTo({ address }, _session, done) {
      if (refuses?.to === address) done(Object.assign(new Error('no such mailbox here'), { responseCode: refuses.code }))
      else if (slow === address) {
        isSlowUnderWay = true
        goOn = () => done()
      } else done()
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
  postman = postmanTo(portOf(server))
})

afterEach(async () => {
  postman.stop()
  await new Promise<void>((resolve) => server.close(resolve))
  stage.close()
})

const postmanTo = (port: number, { log = openLog('silent'), host = '127.0.0.1', mayGoInClear = false } = {}): Postman =>
  openPostman({
    sight: stage.house.sight,
    queue: stage.house.queue,
    smtpUrl: `smtp://${host}:${port}`,
    mayGoInClear,
    from: 'Long Bench Day <bench@longbench.example>',
    log,
  })

const write = (to: string, subject = 'Lot 1, Wörter und £', body = 'Dear Åse,\n\nthe hammer fell at £165.00.') =>
  stage.command((turn) => turn.post({ to, subject, body }))
const portOf = (one: SMTPServer): number => (one.server.address() as AddressInfo).port
const until = async (holds: () => boolean) => {
  while (!holds()) await new Promise((resolve) => setTimeout(resolve, 5))
}
const outbox = async () => (await stage.as('maker')).outbox.list()

describe('the postman', () => {
  it('asks before it gives a letter away whether it is still so: in other words, or not at all, and under its name', async () => {
    postman.stop()
    postman = openPostman({
      sight: stage.house.sight,
      queue: stage.house.queue,
      smtpUrl: `smtp://127.0.0.1:${portOf(server)}`,
      from: 'Long Bench Day <bench@longbench.example>',
      review: (turn, id) => {
        const { subject } = turn.db.select().from(letter).where(eq(letter.id, id)).get() ?? { subject: '' }
        if (subject === 'plain') return 'as it is'
        return subject === 'old' ? 'overtaken' : { subject: 'new', body: 'The price is 52.00.' }
      },
      log: openLog('silent'),
    })
    for (const subject of ['old', 'stale', 'plain']) await write('ase@dahl.example', subject, `What was ${subject}.`)
    await postman.carry()
    await postman.carry()
    expect(came.map(({ words }) => /^(What was|The price).*$/m.exec(words)?.[0]).sort()).toEqual(['The price is 52.00.', 'What was plain.'])
    const names = stage.letters().flatMap(({ id, withdrawnAt }) => (withdrawnAt === null ? id : []))
    expect(names.every((id) => came.some(({ words }) => words.includes(`<${id}@tagstrip>`)))).toBe(true)
    expect(stage.letters().find(({ subject }) => subject === 'old')).toMatchObject({
      sentAt: null,
      tries: 0,
      withdrawnAt: stage.clock.now(),
    })
  })

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
    postman = postmanTo(portOf(server))
    await postman.carry()
    expect(came).toHaveLength(0)
    await (await stage.as('maker')).outbox.again({ id: letter?.id ?? '' })
    await postman.carry()
    expect(came).toHaveLength(1)
    await expect((await stage.as('maker')).outbox.again({ id: letter?.id ?? '' })).rejects.toThrow('It has already been sent.')
  })

  it('puts a code in on the way out, and keeps neither the code nor what it was sealed as', async () => {
    await stage.command((turn) =>
      turn.post({ to: 'ase@dahl.example', subject: 'Your sign-in code', body: `${CODE_PLACE} is it.`, code: '491625' }),
    )
    await postman.carry()
    expect(came[0]?.words).toContain('491625 is it.')
    expect(stage.letters()).toMatchObject([{ body: `${CODE_PLACE} is it.`, sealedCode: null, sentAt: stage.clock.now() }])
  })

  it('puts in what is for the reader alone, whatever signs it holds, and keeps neither it nor what it was sealed as', async () => {
    await stage.command((turn) =>
      turn.post({ to: 'ase@dahl.example', subject: 'Your bid', body: `Your maximum of ${READER_PLACE} stands.`, forReader: '$&743.87' }),
    )
    expect(JSON.stringify(stage.letters())).not.toContain('743.87')
    await postman.carry()
    expect(came[0]?.words).toContain('Your maximum of $&743.87 stands.')
    expect(stage.letters()).toMatchObject([{ body: `Your maximum of ${READER_PLACE} stands.`, sealedWords: null }])
  })

  it('carries what is attached as a file, and keeps its name alone', async () => {
    const attached = { fileName: 'receipts.json', text: '{"amountMinor":74387}' }
    await stage.command((turn) => turn.post({ to: 'ase@dahl.example', subject: 'Your bids', body: 'The day is over.', attached }))
    expect(JSON.stringify(stage.letters())).not.toContain('74387')
    await postman.carry()
    expect(came[0]?.words).toContain('The day is over.')
    expect(came[0]?.words).toMatch(/Content-Type: application\/json; name=receipts\.json/)
    const [, coded = ''] = /filename=receipts\.json\n\n([A-Za-z0-9+/=\n]+)/.exec(came[0]?.words ?? '') ?? []
    expect(Buffer.from(coded, 'base64').toString()).toBe(attached.text)
    expect(stage.letters()).toMatchObject([{ attachedName: 'receipts.json', sealedAttachment: null }])
    expect(await outbox()).toMatchObject([{ attachedName: 'receipts.json' }])
  })

  it('takes codes before all other mail', async () => {
    for (let n = 0; n < 40; n++) await write('ase@dahl.example', `Number ${n}`)
    stage.clock.pass(MINUTE)
    await stage.command((turn) => turn.post({ to: 'bo@dahl.example', subject: 'Your sign-in code', body: CODE_PLACE, code: '491625' }))
    await postman.carry()
    expect(came).toHaveLength(41)
    // Several go at once, so it is among the first few.
    expect(came.findIndex(({ to }) => to[0] === 'bo@dahl.example')).toBeLessThan(4)
  })

  it('lets no slow mailbox keep a code waiting', async () => {
    slow = 'slow@dahl.example'
    await write(slow)
    const round = postman.carry()
    await until(() => isSlowUnderWay)
    await stage.command((turn) => turn.post({ to: 'bo@dahl.example', subject: 'Your sign-in code', body: CODE_PLACE, code: '491625' }))
    await write('ase@dahl.example')
    await postman.carry()
    await until(() => came.some(({ to }) => to[0] === 'bo@dahl.example'))
    goOn()
    await round
    expect(came.map(({ to }) => to[0])).toEqual(['bo@dahl.example', 'ase@dahl.example', slow])
  })

  it('does not carry a code that is too old', async () => {
    await stage.command((turn) => turn.post({ to: 'ase@dahl.example', subject: 'Your sign-in code', body: CODE_PLACE, code: '491625' }))
    stage.clock.pass(11 * MINUTE)
    await postman.carry()
    expect(came).toEqual([])
  })

  it('writes no email address into a line of the log', async () => {
    const lines: string[] = []
    const log = openLog('debug', { write: (line: string) => void lines.push(line) })
    postman.stop()
    postman = postmanTo(portOf(server), { log })
    for (const code of [550, 451]) {
      refuses = { code, to: 'gone@away.example' }
      await write('gone@away.example')
      await postman.carry()
    }
    expect(lines.length).toBeGreaterThan(1)
    expect(lines.join('')).toContain('550')
    expect(lines.join('')).not.toMatch(/@|away\.example/)
    expect((await outbox())[0]?.lastError).toContain('no such mailbox here')
  })

  it('puts no line of its own into the head of a letter, whatever a subject holds', async () => {
    await write('ase@dahl.example', 'Lot 1\r\nBcc: all@others.example')
    await postman.carry()
    expect(came).toMatchObject([{ to: ['ase@dahl.example'] }])
    expect(came[0]?.words).not.toMatch(/^Bcc:/m)
  })
})

describe('TLS', () => {
  // 0.0.0.0 leads to this machine and is none of its own names, so it stands here for a server elsewhere.
  const elsewhere = { host: '0.0.0.0' }

  it('hands a letter to a server elsewhere that offers no TLS only where a setting says so in words', async () => {
    postman.stop()
    postman = postmanTo(portOf(server), elsewhere)
    await write('ase@dahl.example')
    await postman.carry()
    expect(came).toEqual([])
    expect((await outbox())[0]?.lastError).toMatch(/STARTTLS/i)
    postman.stop()
    postman = postmanTo(portOf(server), { ...elsewhere, mayGoInClear: true })
    stage.clock.pass(MINUTE)
    await postman.carry()
    expect(came).toHaveLength(1)
  })

  it('does not trust a certificate that anybody could have made', async () => {
    const impostor = new SMTPServer({ authOptional: true, onData: (stream, _session, done) => stream.resume().on('end', () => done()) })
    await new Promise<void>((resolve) => impostor.listen(0, '127.0.0.1', resolve))
    postman.stop()
    postman = postmanTo(portOf(impostor), elsewhere)
    await write('ase@dahl.example')
    await postman.carry()
    expect(await outbox()).toMatchObject([{ sentAt: null, lastError: expect.stringMatching(/certificate/i) }])
    await new Promise<void>((resolve) => impostor.close(resolve))
  })

  it.each([
    ['localhost', true],
    ['127.0.0.53', true],
    ['[::1]', true],
    ['localhost.mail.example', false],
    ['127.0.0.1.mail.example', false],
    ['mail.example', false],
  ])('%s is this machine: %s', (host, own) => {
    expect(isLoopback(host)).toBe(own)
    expect(mailServerOf(`smtp://name:word@${host}:587`, false).requireTLS).toBe(!own)
  })

  it('cannot be switched off behind a question mark of the address', () => {
    expect(() => readConfig({ NODE_ENV: 'test', SMTP_URL: 'smtp://mail.example?ignoreTLS=true' })).toThrow('without a question mark')
    expect(readConfig({ NODE_ENV: 'test', SMTP_URL: 'smtps://mail.example', SMTP_TLS: 'in the clear' }).mayMailGoInClear).toBe(true)
    expect(() => readConfig({ NODE_ENV: 'test', SMTP_TLS: '0' })).toThrow('in words')
  })
})

describe('a disk without room', () => {
  it('a letter that went and could not be noted is not sent again, and is noted when there is room', async () => {
    await write('ada@bidder.example')
    const run = stage.house.queue.run
    // The note before goes well, the one behind finds no room.
    let notes = 0
    const full: typeof run = (work) => (++notes === 2 ? Promise.reject(new Refusal('no-room', 'full')) : run(work))
    postman.stop()
    postman = openPostman({
      sight: stage.house.sight,
      queue: { ...stage.house.queue, run: full },
      smtpUrl: `smtp://127.0.0.1:${portOf(server)}`,
      from: 'bench@longbench.example',
      log: openLog('silent'),
    })
    await expect(postman.carry()).rejects.toThrow('full')
    stage.clock.pass(DAY)
    expect((await outbox())[0]?.sentAt).toBeNull()
    await postman.carry()
    expect(came).toHaveLength(1)
    expect((await outbox())[0]?.sentAt).not.toBeNull()
  })

  it('a letter whose going cannot be noted beforehand does not go', async () => {
    await write('ada@bidder.example', 'A long letter', 'words '.repeat(20))
    postman.stop()
    postman = openPostman({
      sight: stage.house.sight,
      queue: { ...stage.house.queue, run: () => Promise.reject(new Refusal('no-room', 'full')) },
      smtpUrl: `smtp://127.0.0.1:${portOf(server)}`,
      from: 'bench@longbench.example',
      log: openLog('silent'),
    })
    for (let round = 0; round < 5; round++) await expect(postman.carry()).rejects.toThrow('full')
    expect(came).toEqual([])
  })

  it('a letter that is being sent says that it is not known yet whether it went', async () => {
    slow = 'ada@bidder.example'
    await write('ada@bidder.example')
    const carrying = postman.carry().catch(() => {})
    await until(() => isSlowUnderWay)
    const [waiting] = await outbox()
    expect(waiting).toMatchObject({ tries: 1, lastError: expect.stringContaining('not known yet'), sentAt: null })
    goOn()
    await carrying
    expect((await outbox())[0]).toMatchObject({ lastError: null })
  })
})
