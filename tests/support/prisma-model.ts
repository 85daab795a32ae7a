import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const HOUSE = fileURLToPath(new URL('../..', import.meta.url));
const GENERATOR = fileURLToPath(new URL('./model-generator.mjs', import.meta.url));

interface Field {
  name: string;
  dbName?: string;
  kind: 'scalar' | 'enum' | 'object';
  type: string;
  nativeType: [string, string[]] | null;
  isList: boolean;
  isRequired: boolean;
  hasDefaultValue: boolean;
  relationFromFields?: string[];
  relationToFields?: string[];
  relationOnDelete?: string;
}

interface Model {
  name: string;
  dbName: string | null;
  fields: Field[];
}

interface DataModel {
  models: Model[];
  enums: { name: string; dbName: string | null; values: { name: string; dbName: string | null }[] }[];
  indexes: { model: string; type: string; fields: { name: string }[] }[];
}

/** What schema.prisma says, as facts that the catalogue can be held against: see factsOfDatabase(). */
export async function factsOfSchema(): Promise<string[]> {
  const { models, enums, indexes } = await readDataModel();
  const types = new Map(enums.map((e) => [e.name, e.dbName ?? e.name]));
  const named = new Map(models.map((model) => [model.name, model]));
  const columns = (model: Model | undefined, fields: string[]) =>
    fields.map((name) => column(model?.fields.find((field) => field.name === name) ?? { name })).join(', ');

  const facts = enums.map((e) => `enum ${e.dbName ?? e.name}: ${e.values.map((v) => v.dbName ?? v.name).join(', ')}`);
  for (const { model: name, type, fields } of indexes) {
    const model = named.get(name);
    facts.push(
      `${table(model)}: ${type === 'normal' ? 'index' : type} (${columns(
        model,
        fields.map((f) => f.name),
      )})`,
    );
  }
  for (const model of models)
    for (const field of model.fields) {
      const target = named.get(field.type);
      if (!target) facts.push(`${table(model)}.${column(field)}: ${columnType(field, types)}${nullability(field)}`);
      else if (field.relationFromFields?.length)
        facts.push(
          `${table(model)}: (${columns(model, field.relationFromFields)}) refers to ${table(target)} (${columns(target, field.relationToFields ?? [])})${field.relationOnDelete === 'Cascade' ? ', deleted with it' : ''}`,
        );
    }
  return facts.sort();
}

const table = (model: Model | undefined) => model?.dbName ?? model?.name ?? '?';
const column = (field: Pick<Field, 'name' | 'dbName'>) => field.dbName ?? field.name;
const nullability = (field: Field) =>
  `${field.isRequired ? ' not null' : ''}${field.hasDefaultValue ? ' with a default' : ''}`;

const PLAIN: Record<string, string> = {
  String: 'text',
  Int: 'integer',
  BigInt: 'bigint',
  Boolean: 'boolean',
  DateTime: 'timestamp(3) without time zone',
  Decimal: 'numeric(65,30)',
  Float: 'double precision',
  Json: 'jsonb',
  Bytes: 'bytea',
};
const NATIVE: Record<string, (args: string[]) => string> = {
  Uuid: () => 'uuid',
  Date: () => 'date',
  SmallInt: () => 'smallint',
  Decimal: (args) => `numeric(${args.join(',')})`,
  Timestamptz: ([digits]) => `timestamp(${digits}) with time zone`,
  Time: ([digits]) => `time(${digits}) without time zone`,
  Char: ([length]) => `character(${length})`,
  VarChar: ([length]) => `character varying(${length})`,
};

/** As PostgreSQL's format_type() says it. */
function columnType(field: Field, enums: Map<string, string>): string {
  const [native, args] = field.nativeType ?? [];
  const type = native ? NATIVE[native]?.(args ?? []) : (enums.get(field.type) ?? PLAIN[field.type]);
  if (!type) throw new Error(`Teach tests/support/prisma-model.ts the type of ${field.name}: ${native ?? field.type}.`);
  return type + (field.isList ? '[]' : '');
}

async function readDataModel(): Promise<DataModel> {
  const folder = await mkdtemp(join(tmpdir(), 'wareboard-model-'));
  try {
    const schema = await readFile(join(HOUSE, 'prisma/schema.prisma'), 'utf8');
    const generator = `generator model {\n  provider = "node ${JSON.stringify(GENERATOR).slice(1, -1)}"\n}`;
    await writeFile(join(folder, 'schema.prisma'), schema.replace(/generator client \{.*?\n\}/s, generator));
    const prisma = [join(HOUSE, 'node_modules/prisma/build/index.js'), 'generate', '--no-hints'];
    const model = join(folder, 'model.json');
    await promisify(execFile)(process.execPath, [...prisma, '--schema', join(folder, 'schema.prisma')], {
      cwd: HOUSE,
      env: { ...process.env, MODEL_FILE: model },
    });
    return JSON.parse(await readFile(model, 'utf8'));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
