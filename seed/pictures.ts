import sharp from 'sharp'

/** Which machine a picture shows: the invented designs. */
export type Machine = 'saltmarsh' | 'copperbeech' | 'tidemill' | 'samphire' | 'marram' | 'eelgrass'

const WIDTH = 1600
const HEIGHT = 1200

/** A small repeatable source of chance, so that the same unit always looks the same. */
function chance(seed: number): () => number {
  let state = seed * 2_654_435_761
  return () => {
    state = (Math.imul(state ^ (state >>> 15), 2_246_822_519) + 3_266_489_917) | 0
    return ((state ^ (state >>> 13)) >>> 0) / 4_294_967_296
  }
}

/** A drawn stand-in for a photograph, as JPEG bytes: the machine on the bench, or its board. Nothing in it exists. */
export async function drawPhotograph(machine: Machine, unit: number, view: 'front' | 'board'): Promise<Buffer> {
  return render(view === 'front' ? FRONTS[machine](chance(unit + 7)) : board(chance(unit * 31 + machine.length)))
}

/** The same of a parcel as it was opened: a carton with its flaps out, and bags of parts in it. */
export const drawParcel = (number: number): Promise<Buffer> => render(carton(chance(number * 17 + 3)))

async function render(body: string): Promise<Buffer> {
  // Drawings are allowed here only: what people send is never read as SVG.
  sharp.unblock({ operation: ['VipsForeignLoadSvgBuffer'] })
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" width="1200" height="900">${DEFS}${bench()}${body}${lamp()}</svg>`
  const bytes = await sharp(Buffer.from(svg)).jpeg({ quality: 82 }).toBuffer()
  sharp.block({ operation: ['VipsForeignLoadSvgBuffer'] })
  return bytes
}

const DEFS = `<defs>
<linearGradient id="wall" x1="0" y1="0" x2="0" y2="1"><stop offset="0" stop-color="#5d594f"/><stop offset="1" stop-color="#8d8574"/></linearGradient>
<linearGradient id="wood" x1="0" y1="0" x2="0" y2="1"><stop offset="0" stop-color="#b98d5b"/><stop offset="1" stop-color="#7d5730"/></linearGradient>
<linearGradient id="oak" x1="0" y1="0" x2="1" y2="1"><stop offset="0" stop-color="#c49257"/><stop offset=".5" stop-color="#a87440"/><stop offset="1" stop-color="#7f5328"/></linearGradient>
<linearGradient id="plate" x1="0" y1="0" x2="1" y2="1"><stop offset="0" stop-color="#dcdad3"/><stop offset=".5" stop-color="#b9b7b0"/><stop offset="1" stop-color="#94928b"/></linearGradient>
<linearGradient id="dark" x1="0" y1="0" x2="1" y2="1"><stop offset="0" stop-color="#3f4a4b"/><stop offset="1" stop-color="#1d2526"/></linearGradient>
<linearGradient id="mask" x1="0" y1="0" x2="1" y2="1"><stop offset="0" stop-color="#1d7a5f"/><stop offset="1" stop-color="#0b4a39"/></linearGradient>
<radialGradient id="knob" cx=".35" cy=".3" r=".9"><stop offset="0" stop-color="#5a5752"/><stop offset="1" stop-color="#16140f"/></radialGradient>
<radialGradient id="lamp" cx=".3" cy=".15" r="1"><stop offset="0" stop-color="#fff3d6" stop-opacity=".22"/><stop offset="1" stop-color="#201a10" stop-opacity=".4"/></radialGradient>
<filter id="soft" x="-20%" y="-20%" width="140%" height="140%"><feGaussianBlur stdDeviation="22"/></filter>
<filter id="glow" x="-50%" y="-50%" width="200%" height="200%"><feGaussianBlur stdDeviation="9"/></filter>
</defs>`

const bench = (): string => {
  const boards = [820, 905, 1010].map((y) => `<path d="M0 ${y}H${WIDTH}" stroke="#5b3d1f" stroke-width="3" opacity=".5"/>`).join('')
  return `<rect width="${WIDTH}" height="780" fill="url(#wall)"/><rect y="760" width="${WIDTH}" height="440" fill="url(#wood)"/>${boards}`
}

const lamp = (): string => `<rect width="${WIDTH}" height="${HEIGHT}" fill="url(#lamp)"/>`

const shadow = (x: number, y: number, w: number): string =>
  `<ellipse cx="${x + w / 2}" cy="${y}" rx="${w / 1.9}" ry="46" fill="#1c1208" opacity=".65" filter="url(#soft)"/>`

const box = (x: number, y: number, w: number, h: number, fill: string, r = 18): string =>
  `<rect x="${x}" y="${y}" width="${w}" height="${h}" rx="${r}" fill="url(#${fill})" stroke="#0006" stroke-width="3"/>`

const knob = (x: number, y: number, r: number, turn: number): string => {
  const [dx, dy] = [Math.sin(turn) * r * 0.78, -Math.cos(turn) * r * 0.78]
  return `<circle cx="${x + 5}" cy="${y + 9}" r="${r}" fill="#0007" filter="url(#glow)"/><circle cx="${x}" cy="${y}" r="${r}" fill="url(#knob)"/><path d="M${x} ${y}l${dx} ${dy}" stroke="#efe6d2" stroke-width="${Math.max(4, r / 9)}" stroke-linecap="round"/>`
}

const screws = (x: number, y: number, w: number, h: number): string =>
  [
    [x, y],
    [x + w, y],
    [x, y + h],
    [x + w, y + h],
  ]
    .map(
      ([cx = 0, cy = 0]) =>
        `<circle cx="${cx}" cy="${cy}" r="11" fill="#8a8780"/><path d="M${cx - 7} ${cy + 4}l14 -8" stroke="#3a3833" stroke-width="4"/>`,
    )
    .join('')

/** Segments a to g of a figure, as on any seven-segment display. */
const SEGMENTS = ['abcdef', 'bc', 'abdeg', 'abcdg', 'bcfg', 'acdfg', 'acdefg', 'abc', 'abcdefg', 'abcdfg']

function figure(x: number, y: number, w: number, value: number, colour: string): string {
  const h = w * 1.8
  const t = w * 0.17
  const [half, m] = [h / 2, t / 2]
  const places: Record<string, string> = {
    a: `M${x + t} ${y}h${w - 2 * t}`,
    b: `M${x + w} ${y + t}v${half - 1.5 * t}`,
    c: `M${x + w} ${y + half + m}v${half - 1.5 * t}`,
    d: `M${x + t} ${y + h}h${w - 2 * t}`,
    e: `M${x} ${y + half + m}v${half - 1.5 * t}`,
    f: `M${x} ${y + t}v${half - 1.5 * t}`,
    g: `M${x + t} ${y + half}h${w - 2 * t}`,
  }
  const lit = SEGMENTS[value] ?? ''
  const draw = (names: string[], stroke: string, extra = '') =>
    names
      .map((name) => `<path d="${places[name]}" stroke="${stroke}" stroke-width="${t}" stroke-linecap="round" fill="none"${extra}/>`)
      .join('')
  const on = [...lit]
  const off = Object.keys(places).filter((name) => !lit.includes(name))
  return draw(off, '#ffffff0d') + draw(on, colour, ' filter="url(#glow)" opacity=".8"') + draw(on, colour)
}

const display = (x: number, y: number, figures: number[], w: number, colour: string): string =>
  `<rect x="${x - 46}" y="${y - 44}" width="${figures.length * w * 1.5 + 72}" height="${w * 1.8 + 88}" rx="12" fill="#0d0b0a" stroke="#000" stroke-width="6"/>` +
  figures.map((value, n) => figure(x + n * w * 1.5, y, w, value, colour)).join('')

const FRONTS: Record<Machine, (next: () => number) => string> = {
  saltmarsh: (next) => {
    const marks = Array.from(
      { length: 43 },
      (_, n) => `<path d="M${372 + n * 16} 452v${n % 5 === 0 ? 44 : 24}" stroke="#5b431f" stroke-width="4"/>`,
    ).join('')
    const slots = Array.from(
      { length: 9 },
      (_, n) => `<rect x="380" y="${588 + n * 22}" width="420" height="9" rx="4" fill="#2a1c0d"/>`,
    ).join('')
    const needle = 400 + next() * 620
    return `${shadow(240, 880, 1120)}${box(240, 340, 1120, 520, 'oak', 34)}${box(300, 395, 1000, 410, 'plate', 12)}
<rect x="345" y="425" width="720" height="118" rx="8" fill="#f5e3b4" stroke="#7a5a24" stroke-width="5"/>${marks}<path d="M${needle} 430v108" stroke="#b3261e" stroke-width="6"/>
${slots}${knob(1190, 500, 74, next() * 5 - 2.5)}${knob(930, 690, 52, next() * 4 - 2)}${knob(1070, 690, 52, next() * 4 - 2)}${knob(1205, 690, 52, next() * 4 - 2)}${screws(322, 417, 956, 366)}`
  },
  copperbeech: (next) => {
    const knobs = Array.from({ length: 12 }, (_, n) =>
      knob(470 + (n % 4) * 170, 330 + Math.floor(n / 4) * 165, n < 4 ? 56 : 46, next() * 5 - 2.5),
    ).join('')
    const jacks = Array.from({ length: 10 }, (_, n) => {
      const [x, y] = [420 + (n % 5) * 155, 800 + Math.floor(n / 5) * 84]
      return `<circle cx="${x}" cy="${y}" r="30" fill="#c7c3ba" stroke="#6d6a63" stroke-width="6"/><circle cx="${x}" cy="${y}" r="14" fill="#111"/>`
    }).join('')
    const cable = `<path d="M420 800C380 1040 760 1080 730 884" fill="none" stroke="#b1461f" stroke-width="18" stroke-linecap="round"/>`
    return `${shadow(320, 960, 980)}${box(330, 210, 940, 730, 'dark', 14)}${screws(365, 245, 870, 660)}${knobs}${jacks}${cable}
<circle cx="1190" cy="330" r="15" fill="#ff5a3c" filter="url(#glow)"/><circle cx="1190" cy="330" r="11" fill="#ffb39f"/><rect x="1130" y="520" width="120" height="180" rx="8" fill="#c8703a"/>`
  },
  tidemill: (next) => {
    const hours = Math.floor(next() * 24)
    const minutes = Math.floor(next() * 60)
    const seconds = Math.floor(next() * 60)
    const figures = [hours, minutes, seconds].flatMap((n) => [Math.floor(n / 10), n % 10])
    return `${shadow(170, 850, 1260)}${box(170, 440, 1260, 390, 'oak', 60)}${display(300, 530, figures, 100, '#ff7a3c')}
<circle cx="1345" cy="560" r="26" fill="url(#knob)"/><circle cx="1345" cy="650" r="26" fill="url(#knob)"/><circle cx="1345" cy="740" r="26" fill="url(#knob)"/>`
  },
  samphire: (next) => {
    const figures = Array.from({ length: 8 }, (_, n) => (n === 0 ? 1 : n < 5 ? 0 : Math.floor(next() * 10)))
    const keys = Array.from(
      { length: 4 },
      (_, n) => `<rect x="${560 + n * 150}" y="690" width="110" height="64" rx="10" fill="url(#dark)" stroke="#000" stroke-width="4"/>`,
    ).join('')
    return `${shadow(210, 870, 1180)}${box(210, 370, 1180, 470, 'plate', 20)}${display(320, 455, figures, 78, '#45e08a')}${keys}
<circle cx="395" cy="725" r="54" fill="#d7d4cb" stroke="#6f6c64" stroke-width="8"/><circle cx="395" cy="725" r="24" fill="#1a1a18"/><circle cx="395" cy="725" r="7" fill="#e6c66a"/>${knob(1260, 724, 54, next() * 4 - 2)}${screws(240, 400, 1120, 410)}`
  },
  marram: (next) => {
    const slots = Array.from({ length: 7 }, (_, n) => {
      const y = 520 + n * 34
      const half = Math.sqrt(Math.max(0, 120 * 120 - (y - 622) ** 2))
      return `<rect x="${560 - half}" y="${y}" width="${2 * half}" height="14" rx="7" fill="#2a1c0d"/>`
    }).join('')
    return `${shadow(330, 880, 940)}${box(340, 420, 920, 430, 'oak', 120)}<circle cx="560" cy="630" r="165" fill="#0003"/>${slots}
${knob(880, 590, 70, next() * 5 - 2.5)}${knob(1080, 590, 70, next() * 5 - 2.5)}<circle cx="980" cy="755" r="34" fill="#c7c3ba" stroke="#6d6a63" stroke-width="6"/><circle cx="980" cy="755" r="15" fill="#111"/>`
  },
  eelgrass: (next) => {
    const lead = (x: number, colour: string) => {
      const [dx, dy] = [60 + next() * 120, 180 + next() * 60]
      return `<path d="M${x} 760C${x} ${760 + dy} ${x + dx} ${800 + dy} ${x + 2 * dx} ${820 + dy}" fill="none" stroke="${colour}" stroke-width="16" stroke-linecap="round"/><circle cx="${x}" cy="760" r="34" fill="${colour}" stroke="#0008" stroke-width="5"/><circle cx="${x}" cy="760" r="13" fill="#1a1a18"/>`
    }
    const holes = Array.from(
      { length: 19 },
      (_, n) => `<circle cx="${800 + (n % 5) * 26 - 52}" cy="${520 + Math.floor(n / 5) * 26}" r="8" fill="#3b2f16"/>`,
    ).join('')
    return `${shadow(470, 900, 660)}<rect x="500" y="400" width="600" height="470" rx="26" fill="#c9a24d" stroke="#0006" stroke-width="3"/><rect x="540" y="440" width="520" height="390" rx="10" fill="#b58b36"/>${holes}${screws(530, 430, 540, 410)}
<circle cx="980" cy="560" r="20" fill="#45e08a" filter="url(#glow)"/><circle cx="980" cy="560" r="14" fill="#9df5c4"/>${lead(660, '#8f1f16')}${lead(880, '#1c1c1a')}`
  },
}

function board(next: () => number): string {
  const traces = Array.from({ length: 46 }, () => {
    const [x, y] = [330 + next() * 900, 290 + next() * 560]
    const [run, rise] = [(next() - 0.3) * 240, (next() - 0.5) * 130]
    return `<path d="M${x} ${y}h${run}l${rise} ${rise}v${rise / 2}" fill="none" stroke="#4cb58f" stroke-width="5" opacity=".55"/>`
  }).join('')
  const pads = Array.from(
    { length: 120 },
    () => `<circle cx="${320 + next() * 960}" cy="${280 + next() * 600}" r="6" fill="#d9b46a"/>`,
  ).join('')
  const chips = Array.from({ length: 7 }, (_, n) => {
    const [x, y, w] = [360 + (n % 4) * 235, 330 + Math.floor(n / 4) * 270 + next() * 60, 130 + next() * 60]
    const legs = Array.from(
      { length: 8 },
      (_, k) => `<path d="M${x + 10 + (k * (w - 20)) / 7} ${y - 14}v118" stroke="#cfcabd" stroke-width="8"/>`,
    ).join('')
    return `${legs}<rect x="${x}" y="${y}" width="${w}" height="90" rx="6" fill="#1a1a1a"/><circle cx="${x + 16}" cy="${y + 45}" r="8" fill="#333"/>`
  }).join('')
  const cans = Array.from({ length: 5 }, () => {
    const [x, y] = [380 + next() * 820, 680 + next() * 150]
    return `<circle cx="${x}" cy="${y}" r="38" fill="#28445e"/><circle cx="${x}" cy="${y}" r="28" fill="#c3c6c8"/><path d="M${x - 16} ${y}h32M${x} ${y - 16}v32" stroke="#888" stroke-width="4"/>`
  }).join('')
  return `${shadow(270, 930, 1060)}${box(270, 230, 1060, 690, 'mask', 14)}${traces}${pads}${chips}${cans}${screws(305, 265, 990, 620)}`
}

function carton(next: () => number): string {
  const bags = Array.from({ length: 9 }, (_, n) => {
    const [x, y] = [430 + (n % 5) * 150 + next() * 40, 330 + Math.floor(n / 5) * 120 + next() * 30]
    const grains = Array.from({ length: 14 }, () => {
      const [dx, dy] = [18 + next() * 94, 40 + next() * 80]
      return `<path d="M${dx} ${dy}l${14 + next() * 8} ${next() * 8}" stroke="${next() < 0.5 ? '#b86a2f' : '#39506a'}" stroke-width="9" stroke-linecap="round"/>`
    }).join('')
    return `<g transform="translate(${x} ${y}) rotate(${(next() - 0.5) * 24})"><rect width="136" height="150" rx="8" fill="#dfe6e4" opacity=".9"/><rect width="136" height="24" rx="8" fill="#c9503a"/>${grains}<rect x="22" y="106" width="92" height="32" fill="#fffdf6"/><path d="M30 118h70M30 128h46" stroke="#4a4238" stroke-width="4"/></g>`
  }).join('')
  const side = '<path d="M330 560H1270L1210 980H390Z" fill="#b98a54" stroke="#7b5729" stroke-width="4"/>'
  const back = '<path d="M400 250H1200L1270 560H330Z" fill="#6d4b25"/>'
  const flaps =
    '<path d="M400 250L1200 250L1240 130L360 130Z" fill="#caa06a"/><path d="M400 250L330 560L130 500L250 260Z" fill="#c2965e"/><path d="M1200 250L1270 560L1470 500L1350 260Z" fill="#ab7d48"/><path d="M330 560H1270L1310 660H290Z" fill="#d3ab76"/>'
  const tape =
    '<path d="M750 660H850V980H750Z" fill="#e6cf9c" opacity=".75"/><rect x="930" y="730" width="210" height="130" fill="#fffdf6"/><path d="M955 765h150M955 795h110M955 825h130" stroke="#4a4238" stroke-width="8"/>'
  return `${shadow(360, 980, 880)}${back}${bags}${side}${flaps}${tape}`
}
