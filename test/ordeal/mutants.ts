import ts from 'typescript'

/** One small mistake that could stand in a source: what stands there, and what would. */
export interface Mutant {
  from: number
  to: number
  line: number
  was: string
  is: string
}

const SWAPPED: ReadonlyMap<ts.SyntaxKind, string> = new Map([
  [ts.SyntaxKind.LessThanToken, '<='],
  [ts.SyntaxKind.LessThanEqualsToken, '<'],
  [ts.SyntaxKind.GreaterThanToken, '>='],
  [ts.SyntaxKind.GreaterThanEqualsToken, '>'],
  [ts.SyntaxKind.EqualsEqualsEqualsToken, '!=='],
  [ts.SyntaxKind.ExclamationEqualsEqualsToken, '==='],
  [ts.SyntaxKind.PlusToken, '-'],
  [ts.SyntaxKind.MinusToken, '+'],
  [ts.SyntaxKind.AsteriskToken, '/'],
  [ts.SyntaxKind.SlashToken, '*'],
  [ts.SyntaxKind.AmpersandAmpersandToken, '||'],
  [ts.SyntaxKind.BarBarToken, '&&'],
  [ts.SyntaxKind.PlusEqualsToken, '-='],
  [ts.SyntaxKind.MinusEqualsToken, '+='],
])

/** Every mutant of a source: comparisons moved by one or turned, sums and conditions turned, numbers one more, branches exchanged. Types and texts are left alone. */
export function mutantsOf(source: string): Mutant[] {
  const file = ts.createSourceFile('source.ts', source, ts.ScriptTarget.Latest, true)
  const mutants: Mutant[] = []
  const add = (node: ts.Node, is: string) =>
    mutants.push({
      from: node.getStart(),
      to: node.getEnd(),
      line: file.getLineAndCharacterOfPosition(node.getStart()).line + 1,
      was: node.getText(),
      is,
    })
  const visit = (node: ts.Node): void => {
    if (ts.isTypeNode(node) || ts.isInterfaceDeclaration(node) || ts.isTypeAliasDeclaration(node) || ts.isImportDeclaration(node)) return
    if (ts.isBinaryExpression(node)) {
      const swapped = SWAPPED.get(node.operatorToken.kind)
      // Words that are joined are no sum.
      const isText = [node.left, node.right].some((side) => ts.isStringLiteralLike(side) || ts.isTemplateExpression(side))
      if (swapped && !isText) add(node.operatorToken, swapped)
    }
    if (ts.isNumericLiteral(node)) add(node, String(Number(node.text.replaceAll('_', '')) + 1))
    if (ts.isPrefixUnaryExpression(node) && node.operator === ts.SyntaxKind.ExclamationToken) add(node, node.operand.getText())
    if (ts.isConditionalExpression(node)) add(node.condition, `!(${node.condition.getText()})`)
    if (ts.isIfStatement(node)) add(node.expression, `!(${node.expression.getText()})`)
    if (node.kind === ts.SyntaxKind.TrueKeyword) add(node, 'false')
    if (node.kind === ts.SyntaxKind.FalseKeyword) add(node, 'true')
    if (ts.isPropertyAccessExpression(node) && ts.isIdentifier(node.expression) && node.expression.text === 'Math') {
      if (node.name.text === 'max') add(node.name, 'min')
      if (node.name.text === 'min') add(node.name, 'max')
    }
    ts.forEachChild(node, visit)
  }
  visit(file)
  return mutants
}

export const mutated = (source: string, { from, to, is }: Mutant): string => source.slice(0, from) + is + source.slice(to)
