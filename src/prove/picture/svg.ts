/** Lays a picture out (ELK, layered) and writes it as SVG that reads in black and white and in print. */
import ELK, { type ElkExtendedEdge, type ElkNode, type ElkPort } from 'elkjs/lib/elk.bundled.js';
import type { PictureEdge, PictureGraph, PictureNode } from './graph.ts';

const LINE_HEIGHT = 15;
const LETTER = 6.3;
const BOLD_LETTER = 7.4;
const ROW_LINE = 13;
const ROW_GAP = 4;
const ROW_LETTER = 5.6;
const PADDING = 8;
const HEAD = 46;

export interface Titled {
  readonly title: string;
  /** Says what the picture does not show. */
  readonly note: string;
}

export async function svgOf(graph: PictureGraph, titled: Titled): Promise<string> {
  const root: ElkNode = {
    id: 'all',
    layoutOptions: {
      'elk.algorithm': 'layered',
      'elk.direction': 'RIGHT',
      'elk.edgeRouting': 'ORTHOGONAL',
      'elk.layered.spacing.nodeNodeBetweenLayers': '40',
      'elk.spacing.nodeNode': '14',
      'elk.spacing.edgeEdge': '5',
      'elk.partitioning.activate': 'true',
      'elk.separateConnectedComponents': 'false',
      'elk.layered.considerModelOrder.strategy': 'NODES_AND_EDGES',
    },
    children: graph.nodes.map(boxOf),
    edges: graph.edges.map(lineOf),
  };
  const laid: ElkNode = await new ELK.default().layout(root);
  const kinds = new Map(graph.nodes.map((node) => [node.id, node]));
  const width = Math.ceil((laid.width ?? 0) + 20);
  const height = Math.ceil((laid.height ?? 0) + HEAD + 20);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${String(width)} ${String(height)}" width="${String(width)}" height="${String(height)}" role="img" aria-label="${escaped(titled.title)}" font-family="sans-serif">`,
    `<title>${escaped(titled.title)}</title>`,
    '<defs><marker id="tip" viewBox="0 0 8 8" refX="8" refY="4" markerWidth="7" markerHeight="7" orient="auto"><path d="M0 0 8 4 0 8z" fill="#33414d"/></marker></defs>',
    `<rect width="100%" height="100%" fill="#ffffff"/>`,
    `<text x="10" y="20" font-size="16" font-weight="bold" fill="#12202b">${escaped(titled.title)}</text>`,
    `<text x="10" y="38" font-size="11" fill="#33414d">${escaped(titled.note)}</text>`,
    `<g transform="translate(10 ${String(HEAD)})">`,
    ...(laid.edges ?? []).map(edgeSvg),
    ...(laid.children ?? []).map((child) => nodeSvg(child, kinds.get(child.id))),
    '</g>',
    '</svg>',
  ].join('\n');
}

const COLUMN: Readonly<Record<PictureNode['kind'], string>> = { question: '0', concern: '1', outcome: '2' };

function boxOf(node: PictureNode): ElkNode {
  const { id, kind, lines, rows } = node;
  const width = Math.max(
    ...lines.map(({ length }) => length * (kind === 'question' ? LETTER : BOLD_LETTER)),
    ...rows.flat().map(({ length }) => length * ROW_LETTER),
  );
  const boxWidth = width + 2 * PADDING;
  const ports: ElkPort[] = rows.map((_row, at) => ({
    id: portId(id, at),
    x: boxWidth,
    y: rowTop(node, at) + ROW_LINE / 2,
    width: 0,
    height: 0,
    layoutOptions: { 'elk.port.side': 'EAST' },
  }));
  return {
    id,
    width: boxWidth,
    height: rowTop(node, rows.length) + PADDING,
    ports,
    layoutOptions: {
      'elk.partitioning.partition': COLUMN[kind],
      ...(rows.length > 0 ? { 'elk.portConstraints': 'FIXED_POS' } : {}),
    },
  };
}

/** How far below the top of its box a row begins; the row after the last is where the rows end. */
function rowTop({ lines, rows }: PictureNode, at: number): number {
  const above = rows.slice(0, at).reduce((sum, row) => sum + row.length * ROW_LINE + ROW_GAP, 0);
  return PADDING + lines.length * LINE_HEIGHT + (rows.length > 0 ? ROW_GAP : 0) + above;
}

function portId(node: string, row: number): string {
  return `${node} row ${String(row)}`;
}

function lineOf({ from, row, to }: PictureEdge, at: number): ElkExtendedEdge {
  return { id: `edge ${String(at)}`, sources: [portId(from, row)], targets: [to] };
}

function edgeSvg(edge: ElkExtendedEdge): string {
  const path = (edge.sections ?? [])
    .map(({ startPoint, bendPoints = [], endPoint }) =>
      [startPoint, ...bendPoints, endPoint]
        .map(({ x, y }, at) => `${at === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`)
        .join(''),
    )
    .join('');
  return `<path d="${path}" fill="none" stroke="#5b6b77" marker-end="url(#tip)"/>`;
}

/** Told apart by shape as well as by shade: questions square, complications dashed, outcomes with a heavy edge. */
function nodeSvg({ x = 0, y = 0, width = 0, height = 0 }: ElkNode, node: PictureNode | undefined): string {
  if (node === undefined) return '';
  const at = `x="${x.toFixed(1)}" y="${y.toFixed(1)}" width="${width.toFixed(1)}" height="${height.toFixed(1)}"`;
  const box = {
    question: `<rect ${at} fill="#f4f6f7" stroke="#33414d"/>`,
    concern: `<rect ${at} rx="12" fill="#ffffff" stroke="#33414d" stroke-dasharray="5 3"/>`,
    outcome: `<rect ${at} rx="3" fill="#e3ebef" stroke="#12202b" stroke-width="2.5"/>`,
  }[node.kind];
  const weight = node.kind === 'question' ? '' : ' font-weight="bold"';
  const title = node.lines.map((line, place) =>
    textSvg(line, {
      x: x + PADDING,
      y: y + PADDING + (place + 0.8) * LINE_HEIGHT,
      more: `font-size="12"${weight}`,
    }),
  );
  const rows = node.rows.flatMap((row, place) =>
    row.map((line, of) =>
      textSvg(line, {
        x: x + PADDING,
        y: y + rowTop(node, place) + (of + 0.8) * ROW_LINE,
        more: `font-size="10.5"`,
      }),
    ),
  );
  return [box, ...title, ...rows].join('');
}

interface Placed {
  readonly x: number;
  readonly y: number;
  readonly more: string;
}

function textSvg(line: string, { x, y, more }: Placed): string {
  return `<text x="${x.toFixed(1)}" y="${y.toFixed(1)}" fill="#12202b" ${more}>${escaped(line)}</text>`;
}

export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
