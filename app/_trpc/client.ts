import { createTRPCClient, httpLink } from '@trpc/client'
import type { RootRouter } from '#doors/trpc/root'

/** The house's procedures for the browser: one request each. */
export const api = createTRPCClient<RootRouter>({ links: [httpLink({ url: '/api/trpc' })] })
