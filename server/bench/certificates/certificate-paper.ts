import { drawGauge } from '#paper/gauge-drawing'
import { QUIET } from '#paper/lines'
import { MILLIMETRE, makePaper, type Paper, type PaperSize } from '#paper/paper'
import { drawQr, QUIET_MODULES, qrModules } from '#paper/qr'
import { drawStrip, STRIP_HEIGHT } from '#paper/strip-drawing'
import { type Cell, type Column, NARROW, REST, setTable } from '#paper/table'
import type { CertificatePayload, CertificateResult, CertificateState } from './certificates.contract'
import {
  doubtShort,
  evidenceTitle,
  HOME_CAUTION,
  homeLines,
  isRealFault,
  limitsShort,
  limitsWords,
  nothingChangedWords,
  plainSentence,
  recordSentence,
  releaseWords,
  shownWithUnit,
  soakWords,
} from './sentences.rules'

/** A certificate to be set in print, as it stands now. */
export interface CertificateOrder {
  of: 'certificate'
  payload: CertificatePayload
  state: CertificateState
  size: PaperSize
  kid: string
}

declare module '#paper/order' {
  interface Papers {
    certificate: CertificateOrder
  }
}

/** A certificate in print. The same order gives the same bytes. */
export function setCertificate({ payload, state, size, kid }: CertificateOrder): Promise<Buffer> {
  const spec = {
    title: `${payload.title}, ${payload.item.tag}, ${payload.serial}`,
    author: payload.issuer.name,
    date: new Date(payload.issuedAt),
    size,
    identity: `${payload.item.tag} · ${payload.serial}`,
  }
  return makePaper(spec, (paper) => {
    head(paper, payload, state)
    setTable(
      paper,
      COLUMNS,
      payload.results.map((result) => row(paper, payload, result)),
    )
    repairs(paper, payload)
    withdrawals(paper, payload)
    method(paper, payload)
    parts(paper, payload)
    bounds(paper, payload, kid)
  })
}

const day = (iso: string) => {
  const at = new Date(iso)
  const months = 'January February March April May June July August September October November December'.split(' ')
  return `${at.getUTCDate()} ${months[at.getUTCMonth()]} ${at.getUTCFullYear()}`
}

const shortDay = (iso: string) => day(iso).replace(/ (\w{3})\w* /, ' $1 ')

function head(paper: Paper, payload: CertificatePayload, state: CertificateState) {
  const address = payload.links.home + payload.links.certificate
  const side = Math.max(20, (qrModules(address).length + 2 * QUIET_MODULES) * 0.5) * MILLIMETRE
  const top = paper.y
  const width = paper.width - side - 16
  const corner = { x: paper.left + paper.width - side, y: top }
  paper.text('P', [{ text: `${payload.item.tag} · CERTIFICATE ${payload.serial}`, face: 'codeBold' }], { size: 11, width, after: 2 })
  paper.text('H1', [{ text: payload.title, face: 'bold' }], { size: 20, leading: 25, width, after: 2 })
  if (state.is !== 'current') {
    paper.text('P', [{ text: standing(state), face: 'bold', colour: '#9c2a25' }], { size: 11, width, after: 2 })
  }
  paper.text(
    'P',
    [{ text: `Issued ${day(payload.issuedAt)} at ${payload.issuer.name}, by ${payload.authorisedBy}. ${verdictOf(payload)}` }],
    { width, after: 2 },
  )
  paper.text('P', [{ text: payload.proves }], { width })
  const figure = paper.element('Figure', undefined, {
    alt: `QR code that leads to ${address}`,
    bbox: [corner.x, corner.y, corner.x + side, corner.y + side],
    placement: 'Block',
  })
  figure.add(() => drawQr(paper.doc, address, corner.x, corner.y, side)).end()
  paper.y = Math.max(paper.y, top + side) + 4
  paper.text('P', [{ text: address, face: 'code', colour: QUIET }], { size: 8.5, after: 8 })
  const strip = [paper.left, paper.y, paper.left + paper.width, paper.y + STRIP_HEIGHT]
  const alt = `When this was issued, ${payload.item.tag} was given, built and tested.`
  paper
    .element('Figure', undefined, { alt, bbox: strip, placement: 'Block' })
    .add(() => drawStrip(paper, 3))
    .end()
  paper.y += STRIP_HEIGHT + 8
}

function verdictOf(payload: CertificatePayload): string {
  const { results, reworks } = payload
  const within = results.filter((result) => result.verdict === 'pass within doubt').length
  return recordSentence({ checks: results.length, passed: results.length, within, failed: 0, reworks: reworks.length, isCertified: true })
}

function standing(state: Exclude<CertificateState, { is: 'current' }>): string {
  const at = day(new Date(state.at).toISOString())
  if (state.is === 'superseded') return `Superseded on ${at} by ${state.by}.`
  return `Withdrawn on ${at}: ${state.reason}${state.by === null ? '' : ` Issued after it: ${state.by}.`}`
}

const COLUMNS: readonly Column[] = [
  { head: 'Check', width: REST },
  { head: 'Reading', width: NARROW.reading, align: 'right' },
  { head: '±', width: NARROW.doubt, align: 'right' },
  { head: 'Limits', width: NARROW.limits, align: 'right' },
  { head: 'Where it stands', width: NARROW.gauge },
  { head: 'Verdict', width: NARROW.verdict },
]

function row(paper: Paper, payload: CertificatePayload, result: CertificateResult): Cell[] {
  const instrument = instrumentOf(payload, result)
  const note = [result.isHold ? 'hold' : null, shortDay(result.takenAt), instrument >= 0 ? `M${instrument + 1}` : null]
    .filter(Boolean)
    .join(' · ')
  const { value, lower, upper, nominal, doubt, verdict } = result
  const sentence = `${result.title}: ${shownWithUnit(result)}, ${limitsWords(result) ?? 'no limits'}, ${verdict}.`
  return [
    { spans: [{ text: `${result.check} `, face: 'codeBold' }, { text: `${result.title}\n` }, { text: note, size: 8, colour: QUIET }] },
    { spans: [{ text: shownWithUnit(result), face: 'code' }] },
    { spans: [{ text: doubt === null ? '' : doubtShort(doubt), face: 'code' }] },
    { spans: [{ text: limitsShort(result), face: 'code' }] },
    value === null || (lower === null && upper === null)
      ? { spans: [] }
      : { figure: { alt: sentence, draw: (box) => drawGauge(paper.doc, { value, lower, upper, nominal, doubt }, verdict, box) } },
    { spans: [{ text: verdict, face: verdict === 'pass' ? 'text' : 'bold' }] },
  ]
}

function repairs(paper: Paper, payload: CertificatePayload) {
  paper.heading('What was mended')
  if (payload.reworks.length === 0) paper.text('P', [{ text: mendedNothing(payload) }])
  for (const rework of payload.reworks) {
    const fault = rework.fault ? `${rework.fault}. ` : ''
    const again = rework.undid.length > 0 ? `; ${rework.undid.join(', ')} measured again` : ''
    paper.said(`${day(rework.at)}.`, `${fault}${rework.what}${again}.`)
  }
  if (payload.earlier.length === 0) return
  paper.said('Readings no longer current,', 'kept with the reason:')
  for (const reading of payload.earlier) {
    const words = `${reading.title}, ${shownWithUnit(reading)}, ${reading.verdict}, ${day(reading.takenAt)}. ${reading.whyNotCurrent}`
    paper.text('P', [{ text: `${reading.check} `, face: 'codeBold' }, { text: words }], { size: 9, after: 2 })
  }
}

const mendedNothing = ({ faults = [] }: CertificatePayload) =>
  faults.some(isRealFault) ? nothingChangedWords(faults) : 'Nothing: it passed as it was built.'

/** Earlier certificates of the unit that were withdrawn: whoever reads this one knows of them. */
function withdrawals(paper: Paper, { withdrawn = [] }: CertificatePayload) {
  if (withdrawn.length === 0) return
  paper.heading('Withdrawn before this one')
  for (const { serial, at, reason, again } of withdrawn) {
    const measured = again.length > 0 ? ` Measured again since: ${again.join(', ')}.` : ''
    paper.said(`${serial},`, `withdrawn on ${day(at)}: ${withStop(reason)}${measured}`)
  }
}

const withStop = (words: string) => (/[.!?]$/.test(words) ? words : `${words}.`)

function method(paper: Paper, payload: CertificatePayload) {
  paper.heading('With what, and by which rule')
  for (const [index, one] of payload.instruments.entries()) {
    const checked = one.checkedAt ? `, checked ${day(one.checkedAt)}` : ', not checked against another'
    const due = one.dueAt ? `, due again ${day(one.dueAt)}` : ''
    paper.said(`M${index + 1}`, `${one.name}${one.accuracy ? `, ${one.accuracy}` : ', accuracy not stated'}${checked}${due}.`)
  }
  paper.said('Decision rule.', payload.decisionRule.words)
  paper.said('Doubt.', payload.method.doubt)
  paper.said('Method.', `${payload.method.checklist}, revision ${payload.method.revision}. Its SHA-256 is`, { after: 0 })
  paper.text('P', [{ text: payload.method.digest, face: 'code' }], { size: 8.5, after: 4 })
  paper.said('When and where.', `${day(payload.work.from)} to ${day(payload.work.to)}. ${payload.place} ${payload.received}`)
  for (const { check, soak } of payload.results) if (soak) paper.said(`Soak, ${check}.`, soakWords(soak))
  for (const { check, released } of payload.results)
    if (released) paper.said(`Hold point, ${check}:`, `${releaseWords(released)} ${day(released.at)}.`)
  paper.said('Sampling.', payload.sampling)
  paper.said('Departures from the method.', payload.deviations.length > 0 ? payload.deviations.join(' ') : 'None.')
  paper.said('Results from outside.', payload.external)
  for (const piece of payload.evidence ?? []) {
    const about = [piece.name, piece.words].filter(Boolean).join('. ')
    paper.said(`Evidence, ${evidenceTitle(piece)}.`, `${about}${about === '' ? '' : '. '}Its SHA-256 is`, { after: 0 })
    paper.text('P', [{ text: piece.sha256, face: 'code' }], { size: 8.5, after: 4 })
  }
}

function parts(paper: Paper, payload: CertificatePayload) {
  const { item } = payload
  paper.heading('What was tested')
  paper.said('Unit.', `${item.tag}, number ${item.number} of ${item.design} rev ${item.revision}. ${item.condition}`)
  for (const quirk of payload.quirks) paper.said('Known quirk.', quirk)
  for (const caution of payload.cautions) paper.said('Caution.', caution)
  const images = item.fitted.filter((one) => one.sha256 !== null)
  for (const image of images) {
    paper.said(`Programmed, ${image.designators}.`, `${image.part}. The SHA-256 of its image is`, { after: 0 })
    paper.text('P', [{ text: image.sha256 ?? '', face: 'code' }], { size: 8.5, after: 4 })
  }
  if (payload.atHome.length === 0) return
  paper.heading('Try these at home and compare')
  paper.said('Caution.', HOME_CAUTION)
  for (const check of payload.atHome) {
    const result = payload.results.find((one) => one.check === check)
    if (!result) continue
    const how = homeLines(result).map(({ name, words }) => `${name}: ${words}`)
    paper.said(`${check} ${result.title}.`, [plainSentence(result), ...how].join(' '))
  }
}

function bounds(paper: Paper, payload: CertificatePayload, kid: string) {
  const { links } = payload
  paper.heading('What this does and does not prove')
  paper.text('P', [{ text: `${payload.proves} ${payload.scope} ${payload.notClaimed}` }], { after: 4 })
  paper.said(
    'To check it.',
    `The signed record is at ${links.home}${links.certificate}.json (JWS, Ed25519), the key "${kid}" at ${links.home}${links.keys}. Whether it still stands is at ${links.home}${links.certificate}/status.json, signed, and of all together at ${links.home}/certificates.json.`,
  )
  paper.said('Made for.', `${payload.madeFor.campaign}, in aid of ${payload.madeFor.cause}. ${payload.madeFor.contact}.`)
  paper.said('Who gave.', `Credits as they stand: ${links.home}${links.credits}.`)
  paper.said('Copies.', payload.copying)
  paper.text('P', [{ text: `${payload.end}.`, colour: QUIET }], { after: 0 })
}

/** Its place in the list: of those of one name the one that was checked last before the reading. */
function instrumentOf({ instruments }: CertificatePayload, { instrument, takenAt }: CertificateResult): number {
  const ofName = instruments.flatMap(({ name, checkedAt }, index) => (name === instrument ? [{ checkedAt, index }] : []))
  return (ofName.findLast(({ checkedAt }) => checkedAt === null || checkedAt <= takenAt) ?? ofName[0])?.index ?? -1
}
