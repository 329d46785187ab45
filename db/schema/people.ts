import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Role } from '#kernel/role'

// `person`, `session`, `account`, `verification` and `passkey` are kept by the sign-in library through this
// same handle: their keys are the names that it knows, so some differ from the columns.
const instant = (name: string) => integer(name, { mode: 'timestamp_ms' })

export const person = sqliteTable('person', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  email: text('email').notNull(),
  emailVerified: integer('email_verified', { mode: 'boolean' }).notNull(),
  image: text('image'),
  role: text('role').$type<Role>().notNull().default('bidder'),
  createdAt: instant('created_at').notNull(),
  updatedAt: instant('updated_at').notNull(),
  roleGivenAt: integer('role_given_at').notNull().default(0),
  zone: text('zone'),
})

export const session = sqliteTable('session', {
  id: text('id').primaryKey(),
  token: text('token').notNull(),
  userId: text('person_id')
    .notNull()
    .references(() => person.id),
  expiresAt: instant('expires_at').notNull(),
  ipAddress: text('ip_address'),
  userAgent: text('user_agent'),
  createdAt: instant('created_at').notNull(),
  updatedAt: instant('updated_at').notNull(),
  confirmedAt: instant('confirmed_at'),
})

export const passkey = sqliteTable('passkey', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  publicKey: text('public_key').notNull(),
  userId: text('person_id')
    .notNull()
    .references(() => person.id),
  credentialID: text('credential_id').notNull(),
  counter: integer('counter').notNull(),
  deviceType: text('device_type').notNull(),
  backedUp: integer('backed_up', { mode: 'boolean' }).notNull(),
  transports: text('transports'),
  createdAt: instant('created_at').notNull(),
  aaguid: text('aaguid'),
})

export const sessionSecret = sqliteTable('session_secret', { id: integer('id').primaryKey(), digest: text('digest').notNull() })

export const account = sqliteTable('account', {
  id: text('id').primaryKey(),
  accountId: text('account_id').notNull(),
  providerId: text('provider_id').notNull(),
  userId: text('person_id')
    .notNull()
    .references(() => person.id),
  accessToken: text('access_token'),
  refreshToken: text('refresh_token'),
  idToken: text('id_token'),
  accessTokenExpiresAt: instant('access_token_expires_at'),
  refreshTokenExpiresAt: instant('refresh_token_expires_at'),
  scope: text('scope'),
  password: text('password'),
  createdAt: instant('created_at').notNull(),
  updatedAt: instant('updated_at').notNull(),
})

export const verification = sqliteTable('verification', {
  id: text('id').primaryKey(),
  identifier: text('identifier').notNull(),
  value: text('value').notNull(),
  expiresAt: instant('expires_at').notNull(),
  createdAt: instant('created_at').notNull(),
  updatedAt: instant('updated_at').notNull(),
})

export const codeRequest = sqliteTable('code_request', {
  id: text('id').primaryKey(),
  email: text('email').notNull(),
  browserHash: text('browser_hash').notNull(),
  at: integer('at').notNull(),
  codeHash: text('code_hash').notNull(),
  guesses: integer('guesses').notNull().default(0),
  takenAt: integer('taken_at'),
})

export const firstLink = sqliteTable('first_link', {
  tokenHash: text('token_hash').primaryKey(),
  madeAt: integer('made_at').notNull(),
  usedAt: integer('used_at'),
})

export const paddle = sqliteTable('paddle', {
  personId: text('person_id')
    .primaryKey()
    .references(() => person.id),
  number: integer('number').notNull(),
  country: text('country').notNull(),
  ceilingMinor: integer('ceiling_minor').notNull(),
  rulesAcceptedAt: integer('rules_accepted_at').notNull(),
})
