/** A TypeScript file as the house tests see it: its imports, its text literals and its syntax tree. */
import { posix } from 'node:path';
import ts from 'typescript';
import { listFiles, readText } from './project-files.ts';

export interface SourceFile {
  readonly path: string;
  readonly text: string;
  readonly imports: readonly SourceImport[];
  readonly literals: readonly PlacedText[];
  readonly tree: ts.SourceFile;
}

export interface SourceImport {
  readonly from: string;
  /** A path from the top folder, or the name of an outside package. */
  readonly target: string;
  readonly outside: boolean;
  /** True when nothing of it is left at run time. */
  readonly typeOnly: boolean;
  readonly line: number;
}

export interface PlacedText {
  readonly text: string;
  readonly line: number;
}

/** Every TypeScript file below a folder, parsed. */
export function parseFolder(folder: string): readonly SourceFile[] {
  return listFiles(folder, ['.ts', '.tsx']).map((path) => parseSource(path, readText(path)));
}

export function parseSource(path: string, text: string): SourceFile {
  const tree = ts.createSourceFile(path, text, ts.ScriptTarget.ES2023, true);
  const imports: SourceImport[] = [];
  const literals: PlacedText[] = [];
  walk(tree, (node) => {
    const found = importIn(node);
    const line = lineOf(tree, node);
    if (found !== null) imports.push({ ...resolved(path, found.specifier), typeOnly: found.typeOnly, line });
    else if (isText(node)) literals.push({ text: node.text, line });
  });
  return { path, text, imports, literals, tree };
}

export function walk(node: ts.Node, visit: (node: ts.Node) => void): void {
  visit(node);
  ts.forEachChild(node, (child) => {
    walk(child, visit);
  });
}

export function lineOf(tree: ts.SourceFile, node: ts.Node): number {
  return tree.getLineAndCharacterOfPosition(node.getStart(tree)).line + 1;
}

function importIn(node: ts.Node): { specifier: string; typeOnly: boolean } | null {
  if (ts.isImportDeclaration(node)) return named(node.moduleSpecifier, isTypeClause(node.importClause));
  if (ts.isExportDeclaration(node)) return named(node.moduleSpecifier, node.isTypeOnly);
  if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument))
    return named(node.argument.literal, true);
  if (ts.isExternalModuleReference(node)) return named(node.expression, false);
  if (ts.isCallExpression(node) && isLoad(node.expression)) return named(node.arguments[0], false);
  return null;
}

function isTypeClause(clause: ts.ImportClause | undefined): boolean {
  return clause?.phaseModifier === ts.SyntaxKind.TypeKeyword;
}

function isLoad(callee: ts.Expression): boolean {
  if (callee.kind === ts.SyntaxKind.ImportKeyword) return true;
  return ts.isIdentifier(callee) && callee.text === 'require';
}

function named(
  node: ts.Node | undefined,
  typeOnly: boolean,
): { specifier: string; typeOnly: boolean } | null {
  return node !== undefined && ts.isStringLiteralLike(node) ? { specifier: node.text, typeOnly } : null;
}

function resolved(from: string, specifier: string): Pick<SourceImport, 'from' | 'target' | 'outside'> {
  if (!specifier.startsWith('.')) return { from, target: packageOf(specifier), outside: true };
  return { from, target: posix.join(posix.dirname(from), specifier), outside: false };
}

function packageOf(specifier: string): string {
  if (specifier.startsWith('node:')) return specifier;
  return specifier.split('/', specifier.startsWith('@') ? 2 : 1).join('/');
}

function isText(node: ts.Node): node is ts.LiteralLikeNode {
  return (
    ts.isStringLiteralLike(node) ||
    ts.isTemplateHead(node) ||
    ts.isTemplateMiddleOrTemplateTail(node) ||
    ts.isJsxText(node)
  );
}
