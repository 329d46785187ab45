'use client'

import { useState } from 'react'
import { Chip } from '#app/_ui/chip.tsx'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { SheetQuestion } from '#gifts/sheets/sheets.contract'
import { groupBy } from '#kernel/group'
import styles from './sheet.module.css'

export interface QuestionsProps {
  questions: readonly SheetQuestion[]
  onAnswer(answers: Record<string, string>): void
  onAnswerAll(group: string, keys: readonly string[], value: string): void
}

const GROUP_TITLES: Record<string, string> = {
  twin: 'Who stands more than once',
  here: 'Who may be here already',
  giver: 'Who the parts are from',
  again: 'What may be noted already',
}

/** What only the owner of the sheet knows. An answer is kept at once and can be changed until the sheet is stored. */
export function Questions({ questions, onAnswer, onAnswerAll }: QuestionsProps) {
  // What was answered for all is shown in each: a radio that is there already would keep what it showed.
  const [times, setTimes] = useState(0)
  if (questions.length === 0) return null
  const open = questions.filter(({ answer }) => answer === null).length
  return (
    <section className="sheet stack" aria-labelledby="asked">
      <h2 id="asked" className="row">
        What is in doubt{' '}
        {open === 0 ? <Chip tone="ok">All answered</Chip> : <Chip tone="doubt">{open === 1 ? 'One to answer' : `${open} to answer`}</Chip>}
      </h2>
      {[...groupBy(questions, ({ group }) => group)].map(([group, own]) => (
        <div key={group} className="stack">
          {group !== '' && <h3>{GROUP_TITLES[group]}</h3>}
          {group !== '' && own.length > 1 && (
            <p className="row">
              <span>All {own.length}:</span>
              {sharedOptions(own).map(({ value, label }) => (
                <button
                  key={value}
                  type="button"
                  className="button-line"
                  onClick={() => {
                    onAnswerAll(
                      group,
                      own.map(({ key }) => key),
                      value,
                    )
                    setTimes(times + 1)
                  }}
                >
                  {label}
                </button>
              ))}
            </p>
          )}
          {own.map((question) => (
            <Question key={`${question.key} ${times}`} question={question} onAnswer={(answer) => onAnswer({ [question.key]: answer })} />
          ))}
        </div>
      ))}
    </section>
  )
}

/** What can be answered to every one of them, in words that hold for all. */
function sharedOptions(questions: readonly SheetQuestion[]): { value: string; label: string }[] {
  const [first] = questions
  return (first?.options ?? [])
    .filter(({ value }) => questions.every(({ options }) => options.some((option) => option.value === value)))
    .map(({ value, label }) => ({ value, label: value === 'same' ? 'The same person' : (label.split(':')[0] ?? label) }))
}

function Question({
  question: { key, words, options, typed, answer },
  onAnswer,
}: {
  question: SheetQuestion
  onAnswer(answer: string): void
}) {
  const isTyped = answer !== null && !options.some(({ value }) => value === answer)
  const [text, setText] = useState(isTyped ? answer : '')
  return (
    <div className={answer === null ? styles.open : styles.answered}>
      {options.length > 0 && (
        <RadioGroup
          key={isTyped ? 'typed' : 'chosen'}
          name={`answer ${key}`}
          label={words}
          choices={options}
          {...(answer !== null && !isTyped ? { defaultValue: answer } : {})}
          onChoose={onAnswer}
        />
      )}
      {typed && (
        <div className={styles.typed}>
          <TextField
            name={`typed ${key}`}
            label={options.length > 0 ? `Or: ${typed.label.charAt(0).toLowerCase()}${typed.label.slice(1)}` : words}
            hint={options.length > 0 ? undefined : `${typed.label}.`}
            type={typed.type}
            width="short"
            maxLength={120}
            value={text}
            onChange={(event) => setText(event.currentTarget.value)}
            onKeyDown={(event) => {
              if (event.key !== 'Enter') return
              event.preventDefault()
              if (text !== '') onAnswer(text)
            }}
          />
          {text !== '' && text !== answer && (
            <button type="button" className="button-line" onClick={() => onAnswer(text)}>
              Take this answer
            </button>
          )}
        </div>
      )}
    </div>
  )
}
