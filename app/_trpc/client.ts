import { createTRPCClient, httpLink, type TRPCLink } from '@trpc/client'
import { observable } from '@trpc/server/observable'
import type { RootRouter } from '#doors/trpc/root'
import { confirmFirst } from './confirm-first'

/** What the house refuses until it is sure who asks waits for that proof, and is then sent again as it was. */
const onceConfirmed: TRPCLink<RootRouter> =
  () =>
  ({ op, next }) =>
    observable((observer) => {
      let isWanted = true
      let sent = next(op).subscribe({
        next: observer.next,
        complete: observer.complete,
        error: (reason) => {
          if (reason.data?.refusal !== 'confirm-first') observer.error(reason)
          else
            void confirmFirst().then((isSure) => {
              if (!isSure) observer.error(reason)
              else if (isWanted) sent = next(op).subscribe(observer)
            })
        },
      })
      return () => {
        isWanted = false
        sent.unsubscribe()
      }
    })

/** The house's procedures for the browser: one request each. */
export const api = createTRPCClient<RootRouter>({ links: [onceConfirmed, httpLink({ url: '/api/trpc' })] })
