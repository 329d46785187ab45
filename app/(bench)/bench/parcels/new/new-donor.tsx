'use client'

import { FieldGroup } from '#app/_ui/forms/field.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { ANONYMITY_WORDS, USE_QUESTIONS } from '#app/(bench)/bench/donors/donor-words.ts'
import { CONSENT_USES } from '#stock/donors/donor.contract'
import type { NewDonorDraft } from './draft.rules'

/** Somebody the bench has not met: a name is enough; what they consented to is asked use by use. */
export function NewDonor({ donor, onChange }: { donor: NewDonorDraft; onChange: (change: Partial<NewDonorDraft>) => void }) {
  return (
    <div className="stack">
      <TextField
        name="newDonor.name"
        label="Their name"
        value={donor.name}
        onChange={(event) => onChange({ name: event.currentTarget.value })}
      />
      <TextField
        name="newDonor.contact"
        label="Email address"
        hint="For thanks. Never shown to anybody."
        optional
        type="email"
        inputMode="email"
        autoComplete="off"
        value={donor.contact}
        onChange={(event) => onChange({ contact: event.currentTarget.value })}
      />
      <FieldGroup
        name="newDonor.consents"
        label="May we name them?"
        hint="Tick only what they have agreed to. They can change their mind later."
      >
        {() => (
          <div className="ticks">
            {CONSENT_USES.map((use) => (
              <label key={use} className="tick">
                <input
                  type="checkbox"
                  checked={donor.consents[use]}
                  onChange={(event) => onChange({ consents: { ...donor.consents, [use]: event.currentTarget.checked } })}
                />
                <span>{USE_QUESTIONS[use]}</span>
              </label>
            ))}
          </div>
        )}
      </FieldGroup>
      <details>
        <summary>How to say it, or no name at all</summary>
        <div className="stack close">
          <TextField
            name="newDonor.sayIt"
            label="How to say the name"
            hint="For the host, such as TOH-mas."
            optional
            value={donor.sayIt}
            onChange={(event) => onChange({ sayIt: event.currentTarget.value })}
          />
          <SelectField
            name="newDonor.anonymity"
            label="Shown as"
            value={donor.anonymity}
            onChange={(event) => onChange({ anonymity: event.currentTarget.value as NewDonorDraft['anonymity'] })}
            options={ANONYMITY_WORDS}
          />
        </div>
      </details>
    </div>
  )
}
