import { describe, expect, test } from 'vitest'
import { asked, reads } from './sheets-of'

const NO_QUESTIONS = 'name,mail,gift,quantity,date,thanked\nInes Abreu,ines@abreu.example,crystals,20,2026-05-14,yes\n'

test('a donor with a gift is read from a row: a parcel under its day, and no consent to anything', async () => {
  const { plan, summary, flaws } = await reads('donors', NO_QUESTIONS)
  expect(flaws).toEqual([])
  expect(plan).toEqual([
    {
      is: 'donor',
      donor: 'new 0',
      name: 'Ines Abreu',
      creditName: '',
      contact: 'ines@abreu.example',
      anonymity: 'named',
      isStandIn: false,
    },
    {
      is: 'giving',
      donor: 'new 0',
      isHere: false,
      day: '2026-05-14',
      note: '',
      isThanked: true,
      gifts: [
        {
          kind: 'extras',
          words: 'crystals',
          quantity: 20,
          howCounted: 'counted',
          part: null,
          marking: '',
          dateCode: '',
          place: '',
          minutes: null,
          amountMinor: null,
        },
      ],
    },
  ])
  expect(summary).toEqual([
    '1 new donor, named nowhere until they have been asked',
    '1 gift that came, in 1 parcel',
    '1 of these is noted as thanked',
    'What was given stays in words: nothing is put on the shelf by this sheet',
  ])
})

test('a column of consents is left out, and it is said why', async () => {
  const { notes, plan } = await reads('donors', 'name,may be named?\nInes Abreu,yes\n')
  expect(notes[0]).toContain('“may be named?” is not taken: nobody is named until they have been asked here.')
  expect(plan).toEqual([expect.objectContaining({ is: 'donor', anonymity: 'named' })])
})

test('whoever wishes not to be named is kept so', async () => {
  const { plan } = await reads('donors', 'name,credit as\nInes Abreu,anonymous\nTomas Berg,Tom B.\n')
  expect(plan).toEqual([
    expect.objectContaining({ name: 'Ines Abreu', anonymity: 'maker-only', creditName: '' }),
    expect.objectContaining({ name: 'Tomas Berg', anonymity: 'named', creditName: 'Tom B.' }),
  ])
})

describe('twins', () => {
  const TWICE = 'name,mail\nInes Abreu,ines@abreu.example\nTomas Berg,\nAbreu Inés,\n'

  test('a name that stands twice is asked about, and nothing is stored before it is answered', async () => {
    const read = await reads('donors', TWICE)
    expect(asked(read)).toEqual([
      '“Ines Abreu” and “Abreu Inés” stand with one email address or one name in lines 2 and 4. Is it one donor?',
    ])
    expect(read.plan).toBeNull()
    expect(read.digest).toBeNull()
  })

  test('they are one donor or two, as it is said', async () => {
    const key = (await reads('donors', TWICE)).questions[0]?.key ?? ''
    const donorsAs = async (answer: string) =>
      (await reads('donors', TWICE, { answers: { [key]: answer } })).plan?.filter(({ is }) => is === 'donor').length
    expect(await donorsAs('one')).toBe(2)
    expect(await donorsAs('each')).toBe(3)
    expect(await donorsAs('nonsense')).toBeUndefined()
  })

  test('two addresses under one name may be two people', async () => {
    const sheet = 'name,mail\nJ. Smith,a@one.example\nJ. Smith,b@two.example\nJ. Smith,a@one.example\n'
    const { questions } = await reads('donors', sheet)
    expect(questions[0]?.options.map(({ value }) => value)).toEqual(['one', 'mail', 'each'])
    const { plan } = await reads('donors', sheet, { answers: { [questions[0]?.key ?? '']: 'mail' } })
    expect(plan?.flatMap((item) => (item.is === 'donor' ? item.contact : []))).toEqual(['a@one.example', 'b@two.example'])
  })

  test('somebody of the name or the address of a donor who is here is asked about, and keeps what is known here', async () => {
    const facts = { donors: [{ id: 'd1', name: 'Inés Abreu', creditName: 'Inés', contact: 'ines@here.example' }] }
    const sheet = 'name,mail,gift,quantity,day,thanked\nInes Abreu,other@abreu.example,case,1,2026-05-14,no\n'
    const read = await reads('donors', sheet, { facts })
    expect(asked(read)[0]).toBe('“Ines Abreu” in line 2: a donor called Inés Abreu is here already. Is it the same person?')
    expect(read.questions[0]?.options[0]?.label).toBe('The same: Inés Abreu, i…@here.example')
    const same = await reads('donors', sheet, { facts, answers: { 'all here': 'same' } })
    expect(same.plan).toEqual([expect.objectContaining({ is: 'giving', donor: 'd1', isHere: true })])
    expect(same.summary[0]).toBe('1 donor who is here already keeps what is known of them')
    const other = await reads('donors', sheet, { facts, answers: { 'all here': 'other' } })
    expect(other.plan?.map(({ is }) => is)).toEqual(['donor', 'giving'])
  })
})

describe('what a sheet leaves open', () => {
  test('rows below a name that have none are asked about', async () => {
    const sheet = 'name,gift,quantity,day,thanked\nInes Abreu,crystals,20,2026-05-14,yes\n,displays,2,2026-05-14,yes\n'
    expect(asked(await reads('donors', sheet))[0]).toBe('There is no name in line 3. Do these rows belong to the name above them?')
    const yes = await reads('donors', sheet, { answers: { above: 'yes', 'all twin': 'one' } })
    expect(yes.plan).toHaveLength(2)
    const no = await reads('donors', sheet, { answers: { above: 'no' } })
    expect(no.flaws).toEqual([{ line: 3, column: 'name', words: 'Say who it is from. “Unknown” will do if nobody knows.' }])
  })

  test('no day, no number and no word about thanks are asked once for all rows', async () => {
    const sheet = 'name,gift\nInes Abreu,crystals\nTomas Berg,20 x displays\n'
    const read = await reads('donors', sheet)
    expect(asked(read)).toEqual([
      'No day is given for what was given in lines 2 and 3. Has it come?',
      'It does not say how many were given in line 2.',
    ])
    const promised = await reads('donors', sheet, { answers: { day: 'promised', count: 'one' } })
    expect(promised.summary).toContain('2 promises')
    expect(promised.plan).not.toBeNull()
    const came = await reads('donors', sheet, { answers: { day: '2026-01-31', count: 'not yet' } })
    expect(asked(came)[0]).toContain('Have those been thanked')
    const done = await reads('donors', sheet, { answers: { day: '2026-01-31', count: 'not yet', thanked: 'no' } })
    expect(
      done.plan?.flatMap((item) =>
        item.is === 'giving' ? item.gifts.map(({ words, quantity, howCounted }) => [words, quantity, howCounted]) : [],
      ),
    ).toEqual([
      ['crystals', 0, 'not yet'],
      ['displays', 20, 'counted'],
    ])
    expect(done.summary).toContain('2 are put on the list of thanks that are due')
  })

  test('a number before the words may say how many, which is asked', async () => {
    const sheet = 'name,gift,day,thanked\nInes Abreu,20 displays,2026-05-14,yes\nTomas Berg,555 timer,2026-05-14,yes\n'
    const giftsAs = async (answers: Record<string, string>) =>
      (await reads('donors', sheet, { answers })).plan?.flatMap((item) =>
        item.is === 'giving' ? item.gifts.map(({ words, quantity }) => `${quantity} ${words}`) : [],
      )
    expect(asked(await reads('donors', sheet))).toEqual(['“20 displays” in lines 2 and 3: does the number before the words say how many?'])
    expect(await giftsAs({ numbered: 'yes' })).toEqual(['20 displays', '555 timer'])
    expect(await giftsAs({ numbered: 'no', count: 'one' })).toEqual(['1 20 displays', '1 555 timer'])
  })

  test('a day that can be read both ways is asked about, unless another row says it', async () => {
    const sheet = (day: string) => `name,gift,quantity,day,thanked\nInes Abreu,case,1,03/04/2026,yes\nTomas Berg,case,1,${day},yes\n`
    const read = await reads('donors', sheet('05/06/2026'))
    expect(asked(read)[0]).toBe('What does “03/04/2026” in the column “day” mean?')
    expect(read.questions[0]?.options.map(({ label }) => label)).toEqual([
      'The day stands first: 2026-04-03',
      'The month stands first: 2026-03-04',
    ])
    const said = await reads('donors', sheet('05/06/2026'), { answers: { 'order of day': 'month first' } })
    expect(said.plan?.flatMap((item) => (item.is === 'giving' ? item.day : []))).toEqual(['2026-03-04', '2026-05-06'])
    const plain = await reads('donors', sheet('25/06/2026'))
    expect(plain.questions).toEqual([])
    expect(plain.plan?.flatMap((item) => (item.is === 'giving' ? item.day : []))).toEqual(['2026-04-03', '2026-06-25'])
  })

  test('a day that is still to come is refused at its row', async () => {
    const { flaws } = await reads('donors', 'name,gift,quantity,day,thanked\nInes Abreu,case,1,2027-03-15,yes\n')
    expect(flaws[0]).toMatchObject({ line: 2, column: 'day' })
  })
})

describe('money and hours', () => {
  const sheet = (amount: string) => `name;amount;hours;date\nInes Abreu;${amount};;2026-05-14\nTomas Berg;;2:30;2026-05-14\n`

  test('1.000,00 is a thousand; 1.000 is asked about', async () => {
    const answers = { thanked: 'yes' }
    const whole = await reads('donors', sheet('1.000,00 GBP'), { answers })
    expect(whole.summary).toContain(
      '1 gift of money, £1,000.00 in all, which counts in no total: what came into the account is booked under Money',
    )
    expect(whole.summary).toContain('1 gift of help, 150 minutes in all')
    const open = await reads('donors', sheet('1.000'), { answers })
    expect(asked(open)[0]).toContain('which mark stands before the pence or cents? One cell says “1.000”.')
    const said = await reads('donors', sheet('1.000'), { answers: { ...answers, 'mark of amount': 'point' } })
    expect(said.summary.join()).toContain('£1.00 in all')
  })

  test('another currency, and money without a campaign, are refused at their rows', async () => {
    expect((await reads('donors', sheet('20 EUR'))).flaws[0]).toMatchObject({
      line: 2,
      column: 'amount',
      words: expect.stringContaining('in EUR'),
    })
    expect((await reads('donors', sheet('20'), { facts: { currency: null } })).flaws[0]?.words).toContain('Set up the campaign first')
  })
})

describe('hostile sheets', () => {
  test('a formula is refused at its cell', async () => {
    const { flaws } = await reads('donors', 'name,gift,quantity\nInes Abreu,"=HYPERLINK(""http://x.example"")",1\nTomas Berg,case,#REF!\n')
    expect(flaws.map(({ line, column }) => [line, column])).toEqual([
      [2, 'gift'],
      [3, 'quantity'],
      [3, 'quantity'],
    ])
  })

  test('rows of other lengths, open quotes and other encodings are read or refused in words', async () => {
    expect((await reads('donors', 'name,mail\nInes Abreu\nTomas Berg,t@berg.example,more\n')).flaws[0]?.words).toContain(
      'This row has 3 cells',
    )
    expect((await reads('donors', 'name,mail\n"Ines Abreu,x\n')).flaws[0]?.words).toContain('A quotation mark is open')
    const utf16 = new Uint8Array(Buffer.from('\ufeffname\tmail\nJürgen Groß\tj@gross.example\n', 'utf16le'))
    expect((await reads('donors', utf16)).rows[0]?.cells.name ?? (await reads('donors', utf16)).plan?.[0]).toMatchObject({
      name: 'Jürgen Groß',
    })
    const windows = new Uint8Array(Buffer.from('name;mail\nJürgen Groß;\n', 'latin1'))
    expect((await reads('donors', windows)).plan?.[0]).toMatchObject({ name: 'Jürgen Groß' })
  })

  test('the largest sheet that is taken says its flaws and questions without end in neither', async () => {
    const heading = `name,mail,gift,quantity,day,${Array.from({ length: 95 }, (_, at) => `x${at}`).join(',')}`
    const row = (at: number) => `Donor ${at % 2500},d${at % 2500}@many.example,=bad,nonsense,99/99/9999,${','.repeat(94)}`
    const read = await reads('donors', `${heading}\n${Array.from({ length: 5000 }, (_, at) => row(at)).join('\n')}\n`)
    expect(read.count).toBe(5000)
    expect(read.flaws).toHaveLength(400)
    expect(read.questions).toHaveLength(200)
    expect(read.plan).toBeNull()
  })
})
