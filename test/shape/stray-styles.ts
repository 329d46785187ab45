import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, normalize } from 'node:path'
import ts from 'typescript'

/**
 * Imports of a style sheet from another folder than its own, as `file → sheet`. A sheet dresses its own folder; a look that
 * several need is a piece in app/_ui, or a class in app/_ui/look. This is no rule of the dependency checker, because it has
 * no way to say "the same folder" where the name of a folder holds brackets, as those of routes do.
 */
export function strayStyles(root: string): string[] {
  return readdirSync(join(root, 'app'), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => join('app', name))
    .flatMap((file) =>
      ts
        .preProcessFile(readFileSync(join(root, file), 'utf8'), true, true)
        .importedFiles.map(({ fileName }) => fileName)
        .filter((name) => name.endsWith('.module.css'))
        .map((name) => (name.startsWith('#') ? name.slice(1) : normalize(join(dirname(file), name))))
        .filter((sheet) => dirname(sheet) !== dirname(file))
        .map((sheet) => `${file} → ${sheet}`),
    )
}
