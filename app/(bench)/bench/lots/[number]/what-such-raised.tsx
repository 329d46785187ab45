import { type Currency, plainMoney, showMoney } from '#kernel/money'
import type { PastSales } from '#sale/lots/past-sales.service'

/** What others of its design were sold for, and a button that writes it into the three fields; nothing is filled in unasked. */
export function WhatSuchRaised({ sales, currency }: { sales: PastSales; currency: Currency }) {
  const { many, least, middle, most, design, before } = sales
  const show = (minor: number) => showMoney(minor, currency)
  function fill(form: HTMLFormElement | null) {
    for (const [name, minor] of [
      ['low', least],
      ['likely', middle],
      ['high', most],
    ] as const) {
      const field = form?.elements.namedItem(name)
      if (!(field instanceof HTMLInputElement)) continue
      field.value = plainMoney(minor, currency)
      field.dispatchEvent(new Event('input', { bubbles: true }))
    }
  }
  return (
    <div className="stack close">
      <p className="small">
        {many === 1
          ? `One other ${design} was sold, for ${show(middle)}.`
          : `${many} others of ${design} were sold, for ${show(least)} to ${show(most)}; the one in the middle for ${show(middle)}.`}
        {before > 0 && ` ${before === many ? 'All of that was' : `${before} of them were sold`} before this house.`}
      </p>
      <div>
        <button type="button" className="button-line" onClick={({ currentTarget }) => fill(currentTarget.form)}>
          Use what such machines raised
        </button>
      </div>
    </div>
  )
}
