'use client'

import { type ReactNode, useId, useRef } from 'react'
import { Dialog } from '../dialog'
import { CommandForm, type CommandFormProps } from './command-form'
import { SubmitButton } from './submit-button'

export interface ConfirmButtonProps<Answer> extends Pick<CommandFormProps<Answer>, 'run' | 'pending' | 'refusal' | 'onDone'> {
  /** On the page: "Withdraw this lot…". */
  children: ReactNode
  /** The question: "Withdraw lot 7?" */
  title: string
  /** What this will undo, and whether it can be undone. */
  undoes: ReactNode
  /** The answer that does it: "Withdraw it". */
  confirm: string
  /** The answer that does not: "Keep it". */
  keep?: string
  /** `first` where it does not destroy but only asks for more. */
  kind?: 'bad' | 'first'
  /** Fields that it needs, such as a reason. */
  fields?: ReactNode
}

/** A button that destroys: it asks first, saying what it will undo. */
export function ConfirmButton<Answer>({
  children,
  title,
  undoes,
  confirm,
  keep = 'Leave it as it is',
  kind = 'bad',
  fields,
  onDone,
  ...command
}: ConfirmButtonProps<Answer>) {
  const dialog = useRef<HTMLDialogElement>(null)
  const titleId = useId()
  const done = (answer: Answer) => {
    dialog.current?.close()
    onDone?.(answer)
  }
  return (
    <>
      <button type="button" className="button-line" onClick={() => dialog.current?.showModal()}>
        {children}
      </button>
      <Dialog ref={dialog} titleId={titleId} kind={kind}>
        <CommandForm {...command} label={title} onDone={done}>
          <h2 id={titleId}>{title}</h2>
          <div className="stack close">{undoes}</div>
          {fields}
          <div className="row">
            <SubmitButton kind={kind}>{confirm}</SubmitButton>
            <button type="button" className="button-line" onClick={() => dialog.current?.close()}>
              {keep}
            </button>
          </div>
        </CommandForm>
      </Dialog>
    </>
  )
}
