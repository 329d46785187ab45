import { cpSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, expect, it } from 'vitest'
import { openDatabase } from '#db/open'
import { readJournal } from '#money/journal/entries.service'
import { sealingSteps } from '#sale/lots/sealing-steps'

const MIGRATIONS = join(import.meta.dirname, '..', '..', '..', 'db', 'migrations')
const dir = mkdtempSync(join(tmpdir(), 'older-'))
afterEach(() => rmSync(dir, { recursive: true }))

it('a journal that was begun before costs were kept is carried over whole, corrections too', () => {
  for (const name of readdirSync(MIGRATIONS)) if (name < '0022') cpSync(join(MIGRATIONS, name), join(dir, name))
  const file = join(dir, 'older.db')
  const older = openDatabase(file, dir, {})
  older.handle.exec(`
    INSERT INTO entry (id, at, kind, memo, value_on) VALUES ('e1', 1, 'gift', 'Gift of money', '2027-03-13');
    INSERT INTO entry (id, at, kind, memo, value_on, corrects_id) VALUES ('e2', 2, 'gift', 'Taken back', '2027-03-13', 'e1');
    INSERT INTO posting VALUES ('e1', 0, 'bank', 500), ('e1', 1, 'owed-to-cause', -500), ('e2', 0, 'bank', -500), ('e2', 1, 'owed-to-cause', 500);`)
  older.handle.close()
  const { db, handle } = openDatabase(file, MIGRATIONS, sealingSteps({ seal: () => new Uint8Array(32) }))
  expect(readJournal({ db }).map(({ seq, id, correctsId, postings }) => ({ seq, id, correctsId, bank: postings[0]?.amountMinor }))).toEqual(
    [
      { seq: 1, id: 'e1', correctsId: null, bank: 500 },
      { seq: 2, id: 'e2', correctsId: 'e1', bank: -500 },
    ],
  )
  expect(handle.pragma('foreign_key_check')).toEqual([])
  handle.close()
})
