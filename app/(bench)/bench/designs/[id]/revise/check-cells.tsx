'use client'

import { type ChangeEvent, useMemo } from 'react'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { FieldGroup } from '#app/_ui/forms/field.tsx'
import { FormContext } from '#app/_ui/forms/form-context.ts'
import { SelectField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { AT_HOME_COLUMNS } from '#bench/designs/at-home.rules'
import { CHECK_KINDS, STAGE_KINDS } from '#bench/designs/design.contract'
import { STAGE_KIND_WORDS } from '#bench/designs/stage-kinds.rules'
import type { Cells } from '#bench/designs/written.rules'
import styles from './revise.module.css'

const KIND_WORDS = { measure: 'Measurement', count: 'Count', match: 'Match of an image or a code', yesno: 'Yes or no', soak: 'Soak' }

export interface CheckCellsProps {
  row: Cells
  index: number
  flaws: Record<string, string>
  blocks: readonly string[]
  stages: readonly string[]
  put(over: Cells): void
}

/** All cells of one check, those that its kind has. */
export function CheckCells({ row, index, flaws, blocks, stages, put }: CheckCellsProps) {
  const { kind = '' } = row
  const isMeasured = ['measure', 'count', 'soak'].includes(kind)
  const context = useMemo(() => ({ prefix: `check-${index}`, errors: flaws, pending: false }), [index, flaws])
  const cell = (name: string) => ({
    name,
    value: row[name] ?? '',
    onChange: (event: ChangeEvent<HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement>) =>
      put({ [name]: event.currentTarget.value }),
  })
  const short = { width: 'code', mono: true } as const
  const isForHome = Object.values(AT_HOME_COLUMNS).some((name) => (row[name] ?? '').trim() !== '')
  const mayBeAtHome = (kind !== 'match' && kind !== 'soak') || isForHome
  const chosen = (row.exercises ?? '').split(';').map((one) => one.trim())
  return (
    <FormContext value={context}>
      <div className={styles.cells}>
        <div className={styles.few}>
          <TextField {...cell('step')} {...short} label="Key" />
          <TextField {...cell('stage')} label="Stage" width="short" list={`stages-${index}`} />
          <SelectField
            {...cell('stage kind')}
            label="What the stage is"
            options={[
              { value: '', label: 'By its name and its checks' },
              ...STAGE_KINDS.map((value) => ({ value, label: `${value}: ${STAGE_KIND_WORDS[value]}` })),
            ]}
          />
          <SelectField {...cell('kind')} label="Kind" options={CHECK_KINDS.map((value) => ({ value, label: KIND_WORDS[value] }))} />
          <TextField {...cell('minutes')} {...short} label="Minutes" inputMode="decimal" />
        </div>
        <datalist id={`stages-${index}`}>
          {stages.map((stage) => (
            <option key={stage} value={stage} />
          ))}
        </datalist>
        <TextField {...cell('title')} label="What is checked" />
        {isMeasured && (
          <div className={styles.few}>
            <TextField {...cell('nominal')} {...short} label="Nominal" optional inputMode="decimal" />
            <TextField {...cell('lower')} {...short} label="Lower limit" optional hint="4.75, −5 % or −50 ppm" />
            <TextField {...cell('upper')} {...short} label="Upper limit" optional hint="5.25, +5 % or +50 ppm" />
            <TextField {...cell('unit')} {...short} label="Unit" optional={kind !== 'measure'} />
            {kind === 'measure' && <TextField {...cell('frequency')} {...short} label="At" optional hint="Its frequency, such as 1 kHz." />}
          </div>
        )}
        {kind === 'soak' && (
          <div className={styles.few}>
            <TextField {...cell('hours')} {...short} label="Hours" inputMode="decimal" />
            <TextField {...cell('starts')} {...short} label="Cold starts" optional inputMode="numeric" />
          </div>
        )}
        {kind === 'match' && (
          <TextField
            {...cell('expects')}
            label="What it must be"
            mono
            hint="The SHA-256 of the image, or the identification code, such as 0x1ba02093."
          />
        )}
        <div className={styles.few}>
          <CheckField
            key={`hold ${row.hold}`}
            name="hold"
            label="Hold point: nothing below it goes on until somebody releases it"
            defaultChecked={isYes(row.hold, 'hold')}
            onCheck={(yes) => put({ hold: yes ? 'hold' : '' })}
          />
          {isYes(row.hold, 'hold') && (
            <CheckField
              key={`four eyes ${row['four eyes']}`}
              name="four eyes"
              label="Four eyes: whoever took the reading cannot release it"
              defaultChecked={isYes(row['four eyes'], 'four eyes')}
              onCheck={(yes) => put({ 'four eyes': yes ? 'y' : '' })}
            />
          )}
          <SelectField
            {...cell('gates power')}
            label="Does power wait for it?"
            options={[
              { value: '', label: 'By its stage: what is cold, and a measured hold point' },
              { value: 'y', label: 'Yes, no later check is powered before it has passed' },
              { value: 'n', label: 'No' },
            ]}
          />
          <CheckField
            key={`powered ${row.powered}`}
            name="powered"
            label="The machine is powered"
            defaultChecked={isYes(row.powered, 'powered')}
            onCheck={(yes) => put({ powered: yes ? 'y' : 'n' })}
          />
        </div>
        <TextField {...cell('after')} label="Checks it needs first" optional mono hint="Their keys, such as B3 B4." />
        <TextField {...cell('exercises')} label="Blocks it exercises" hint="Separated by semicolons. What it reads comes from these." />
        <p className={styles.blocks}>
          {blocks
            .filter((block) => !chosen.includes(block))
            .map((block) => (
              <button
                key={block}
                type="button"
                className={styles.add}
                onClick={() => put({ exercises: [...chosen.filter(Boolean), block].join(';') })}
              >
                + {block}
              </button>
            ))}
        </p>
        <TextareaField {...cell('plain')} label="In plain words, for people without a meter" optional rows={2} />
        <TextareaField {...cell('caution')} label="Caution" optional rows={2} />
        {mayBeAtHome && (
          <FieldGroup
            name="at-home"
            label="For the buyer, at home"
            hint="Filled in, this check is offered to whoever buys the machine; empty, it stays at the bench. Up to five in a design."
          >
            {() => (
              <div className={styles.cells}>
                <TextareaField {...cell(AT_HOME_COLUMNS.touch)} label="Where to touch, and with what" optional rows={2} />
                <TextareaField {...cell(AT_HOME_COLUMNS.needs)} label="What they need" optional rows={2} />
                <TextareaField {...cell(AT_HOME_COLUMNS.signs)} label="What to look and listen for without a meter" optional rows={2} />
              </div>
            )}
          </FieldGroup>
        )}
        <TextareaField {...cell('on failure')} label="What to do if it fails" optional rows={2} />
      </div>
    </FormContext>
  )
}

const isYes = (cell = '', word: string) => ['y', 'yes', 'x', '1', 'true', word].includes(cell.trim().toLowerCase())
