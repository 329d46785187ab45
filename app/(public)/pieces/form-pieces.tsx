'use client'

import { useState } from 'react'
import { CheckboxGroup, CheckField, RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm, type RefusedWords } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import type { FormValues } from '#app/_ui/forms/form-values.ts'
import { NumberStepper } from '#app/_ui/forms/number-stepper.tsx'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, SelectField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import styles from './pieces.module.css'
import { Section } from './state'

const REFUSED: RefusedWords = {
  words: 'Two things to put right.',
  fields: { donor: 'Say who sent it, or choose "unknown".', most: 'Your bid must be at least £175.00.' },
}

/** Fields as they stand, and as they stand once they were refused. Pressing the button refuses, after a wait. */
export function FormPieces() {
  const [refusal, setRefusal] = useState<RefusedWords | null>(REFUSED)
  const [pending, setPending] = useState(false)
  const [said, setSaid] = useState('')
  const look = async (values: FormValues) => {
    setPending(true)
    setRefusal(null)
    await new Promise((wake) => setTimeout(wake, 1500))
    setPending(false)
    if (values.text('donor').trim() === '' || values.text('most') === '') setRefusal(REFUSED)
    else setSaid(`Taken: ${values.whole('quantity')} from ${values.text('donor')}.`)
    return null
  }
  return (
    <Section title="Form">
      <div className={styles.grid}>
        <div className="sheet">
          <CommandForm run={look} pending={pending} refusal={refusal} label="A parcel">
            <TextField name="donor" label="From whom?" hint="As they wrote it on the parcel." autoComplete="off" />
            <NumberStepper name="quantity" label="How many displays?" defaultValue={6} thing="display" />
            <MoneyField
              name="most"
              label="The most you would pay"
              hint="From £175. You pay one step over the next bidder."
              currency="GBP"
            />
            <SelectField
              name="kind"
              label="What is it?"
              options={[
                { value: 'parts', label: 'Parts' },
                { value: 'boards', label: 'Boards' },
                { value: 'cases', label: 'Cases' },
              ]}
            />
            <div className="row">
              <SubmitButton waiting="Logging it">All there: log it</SubmitButton>
            </div>
            <p role="status" className="small quiet">
              {said}
            </p>
          </CommandForm>
        </div>
        <div className="sheet">
          <CommandForm run={async () => null} pending={false} refusal={null} label="More fields">
            <RadioGroup
              name="anonymity"
              label="May we name them?"
              defaultValue="named"
              choices={[
                { value: 'named', label: 'By name' },
                { value: 'friend', label: 'As "a friend"', hint: 'The maker knows who it is.' },
                { value: 'unknown', label: 'Nobody knows who sent it' },
              ]}
            />
            <CheckboxGroup
              name="uses"
              label="Where?"
              optional
              choices={[
                { value: 'page', label: 'On the page' },
                { value: 'stream', label: 'On the stream' },
                { value: 'card', label: 'On a printed card', hint: 'A card cannot be recalled.' },
              ]}
              defaultValues={['page']}
            />
            <TextareaField name="note" label="Anything else?" optional rows={3} />
            <TextField name="reading" label="Reading" width="code" mono inputMode="decimal" defaultValue="8.02" />
            <CheckField name="rules" label="I have read the rules of sale." />
            <PhotoField name="photo" label="The parcel" optional />
          </CommandForm>
        </div>
        <div className="row">
          <ConfirmButton
            run={async () => null}
            pending={false}
            refusal={null}
            title="Quarantine batch B-0147?"
            undoes={
              <p>
                Three units are set aside, one certificate is withdrawn, and lot 7 goes on hold at once. Releasing the batch does not bring
                the certificate back.
              </p>
            }
            confirm="Quarantine it"
            fields={<TextField name="reason" label="Why?" />}
          >
            Quarantine this batch…
          </ConfirmButton>
        </div>
      </div>
    </Section>
  )
}
