import type { ColumnWanted } from '#kernel/table'
import { readDesignators } from '#stock/catalogue/designator.rules'
import { readValue } from '#stock/catalogue/value.rules'

/** Most of the cells, and at least one, are so; one in three may be a slip. */
const mostAre = (cells: readonly string[], test: (cell: string) => boolean): boolean =>
  cells.length > 0 && cells.filter(test).length >= cells.length * 0.6

const isDesignators = (cell: string) => readDesignators(cell).problems.length === 0
const isMeasure = (cell: string) => cell.split(/[\s/]/, 3).some((word) => readValue(word).ok)
const isFootprint = (cell: string) =>
  /^[^:]{1,60}:[^:]{1,80}$|(?:^|[_-])(?:0402|0603|0805|1206)(?:$|[_-])|^(?:DIP|SO|SOIC|SOT|TO|QFP|SOD)-?\d/i.test(cell)

/** The columns of a parts list, by their names and by the other words of the trade, and how one is known that is headed by none. */
export const PARTS_COLUMNS: readonly ColumnWanted[] = [
  {
    name: 'designators',
    isRequired: true,
    also: [
      'designator',
      'references',
      'reference',
      'reference designator',
      'reference designators',
      'part reference',
      'part references',
      'ref des',
      'refs',
      'ref',
      'positions',
      'position',
      'référence',
      'referenz',
      'referencia',
    ],
    guess: (_heading, cells) => (mostAre(cells, isDesignators) ? 'what stands in it reads as designators' : null),
  },
  { name: 'kind', isRequired: false, also: ['part kind', 'class'] },
  {
    name: 'value',
    isRequired: false,
    also: ['val', 'values', 'wert', 'valeur', 'valor'],
    guess: (_heading, cells) =>
      mostAre(
        cells.filter((cell) => /\d/.test(cell)),
        isMeasure,
      )
        ? 'what stands in it reads as values'
        : null,
  },
  { name: 'part', isRequired: false, also: ['name', 'part name', 'component', 'device', 'type', 'part number', 'description'] },
  {
    name: 'package',
    isRequired: false,
    also: ['footprint', 'footprint name', 'pattern', 'land pattern', 'case', 'size', 'gehäuse', 'boîtier'],
    guess: (_heading, cells) => (mostAre(cells, isFootprint) ? 'what stands in it reads as packages' : null),
  },
  { name: 'rating', isRequired: false, also: ['ratings', 'voltage', 'tolerance'] },
  {
    name: 'quantity',
    isRequired: false,
    also: [
      'qty',
      'quantity per board',
      'qty per board',
      'count',
      'number',
      'pcs',
      'pieces',
      'anzahl',
      'menge',
      'stück',
      'quantité',
      'cantidad',
    ],
  },
  { name: 'blocks', isRequired: false, also: ['block', 'section', 'sheet'] },
  { name: 'after', isRequired: false, also: ['fitted after'] },
  { name: 'not fitted', isRequired: false, also: ['dnp', 'dnf', 'dni', 'do not populate', 'do not fit', 'do not place', 'left empty'] },
  { name: 'programmed', isRequired: false, also: [] },
  { name: 'socketed', isRequired: false, also: ['socket'] },
  { name: 'hard to find', isRequired: false, also: ['rare'] },
  { name: 'image', isRequired: false, also: ['sha256', 'image sha256'] },
  { name: 'idcode', isRequired: false, also: ['identification code'] },
  { name: 'substitutes', isRequired: false, also: ['substitute', 'accepted substitutes', 'alternatives', 'alternates', 'instead'] },
  {
    name: 'notes',
    isRequired: false,
    also: ['note', 'comments', 'remarks', 'remark'],
    guess: (heading) => (/^comment$/i.test(heading.trim()) ? 'what stands in it does not read as values' : null),
  },
]
