// Who may import whom. Each rule is proved to bite by a violation planted in test/shape/planted, where the same tree
// stands once more in small; those of storeys and rooms are made from the table in DEVELOPERS.md.
const { storeyRules } = require('./storeys.cjs')

const PURE = ['^(server|app)/.*\\.rules\\.ts$', '\\.contract\\.ts$', '\\.policy\\.ts$', '\\.events\\.ts$', '^server/kernel/']
const values = { dependencyTypesNot: ['type-only'] }

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    ...storeyRules(),
    {
      name: 'storeys-by-name',
      comment: 'Another storey is imported by its name (#sale/lots/lots.service), not by climbing out of this one.',
      severity: 'error',
      from: { path: '^server/([^/]+)/.*\\.ts$' },
      to: { path: '^server/.*\\.ts$', pathNot: '^server/$1/', dependencyTypesNot: ['aliased-subpath-import'] },
    },
    {
      name: 'no-circles',
      comment: 'Two files that need each other, be it for a type alone, are one idea in two places.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'rules-are-pure',
      comment: 'Rules and contracts take facts and give decisions: no database, no process, no files, no services.',
      severity: 'error',
      from: { path: PURE },
      to: {
        path: [
          // A pure rule may stand on another.
          '^server/(runtime|doors|house)/(?!.*\\.(rules|contract)\\.ts$)',
          '^(db|seed)/',
          '^app/.*\\.tsx$',
          '\\.(store|service|sweep|reaction|router|live|address)\\.ts$',
          '^(node:)?(fs|fs/promises|net|http|https|child_process|worker_threads|os)$',
        ],
        ...values,
      },
    },
    {
      name: 'pages-hold-no-server',
      comment: 'A page asks through procedures; it may import rules, contracts, the kernel and types.',
      severity: 'error',
      from: { path: '^app/' },
      to: { path: '^(server|db)/', pathNot: PURE, ...values },
    },
    {
      name: 'own-store-only',
      comment: 'A room reads another room through its service, never through its store.',
      severity: 'error',
      from: { path: '^server/([^/]+/[^/]+)/' },
      to: { path: '^server/.*\\.store\\.ts$', pathNot: '^server/$1/' },
    },
    {
      name: 'routers-are-thin',
      comment: 'A router translates: input, permission, the service.',
      severity: 'error',
      from: { path: '\\.router\\.ts$' },
      to: { path: ['\\.store\\.ts$', '^db/'] },
    },
    {
      name: 'the-house-knows-no-guests',
      comment: 'Server and database never import pages, tests or the demo story.',
      severity: 'error',
      from: { path: '^(server|db)/' },
      to: { path: '^(app|seed|test)/' },
    },
    {
      name: 'what-is-imported-is-there',
      comment: 'A path that leads nowhere.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true, pathNot: '^server-only$' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: ['^test/shape/planted/', '^dist/', '^\\.next'] },
    tsConfig: { fileName: require('node:path').join(__dirname, '..', '..', 'tsconfig.json') },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'require', 'node', 'default', 'types'] },
  },
}
