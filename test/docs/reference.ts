/** The reference of the scenario file as Markdown, made from its schema. */
import { scenarioSchema } from "../../src/index.ts";

type Json = { readonly [key: string]: unknown };

const isJson = (value: unknown): value is Json => typeof value === "object" && value !== null && !Array.isArray(value);
const jsonIn = (value: unknown, key: string): Json => (isJson(value) && isJson(value[key]) ? value[key] : {});

const SCHEMA: unknown = scenarioSchema();
const PARTS = jsonIn(SCHEMA, "$defs");
/** Parts that have a table of their own, with what stands in a cell that refers to them. */
const OWN: readonly (readonly [part: string, heading: string])[] = [
  ["belt", "A belt"],
  ["footprint", "A footprint"],
  ["distribution-of-times", "A distribution of times (a duration alone is always just that)"],
];

export function reference(): string {
  const top = jsonIn(SCHEMA, "properties");
  const one = (section: string): Json => jsonIn(top[section], "additionalProperties");
  const layouts: unknown = one("lines").allOf;
  const lines = (Array.isArray(layouts) ? layouts : []).map((branch) => {
    const body = jsonIn(branch, "then");
    return table(`A line: ${layoutOf(body)}`, body);
  });
  return [
    table("The file", isJson(SCHEMA) ? SCHEMA : {}),
    table("A feed", one("feeds")),
    table("A machine, or a group of equal ones", one("machines")),
    ...lines,
    table("An outlet", one("outlets")),
    table("limits", jsonIn(top, "limits")),
    table("floor", jsonIn(top, "floor")),
    table("means", jsonIn(top, "means")),
    table("costs", jsonIn(top, "costs")),
    table("random", jsonIn(top, "random")),
    table("A tactic", one("tactics")),
    ...OWN.map(([part, heading]) => table(heading, jsonIn(PARTS, part))),
  ].join("\n\n");
}

function layoutOf(body: Json): string {
  return String(jsonIn(jsonIn(body, "properties"), "layout").const);
}

function table(heading: string, shape: Json): string {
  return [`### ${heading}`, "", "| key | if not stated | |", "| --- | --- | --- |", ...rows(shape, "")].join("\n");
}

function rows(shape: Json, before: string): string[] {
  const required = Array.isArray(shape.required) ? shape.required : [];
  return Object.entries(jsonIn(shape, "properties")).flatMap(([key, stated]) => {
    if (!isJson(stated)) return [];
    const path = `${before}${key}`;
    const otherwise = required.includes(key) ? "*needed*" : code(stated.default);
    const own = `| \`${path}\` | ${otherwise} | ${cell(String(stated.description ?? ""))} |`;
    return before === "" && isSection(shape, key) ? [own] : [own, ...beneath(stated, path)];
  });
}

/** Told in tables of their own. */
function isSection(shape: Json, key: string): boolean {
  return shape === SCHEMA && jsonIn(shape, "properties")[key] !== undefined && key !== "title";
}

function beneath(stated: Json, path: string): string[] {
  if ("$ref" in stated) return [];
  if (isJson(stated.properties)) return rows(stated, `${path}.`);
  const values = stated.additionalProperties ?? stated.items;
  if (isJson(values) && isJson(values.properties)) return rows(values, `${path}.${"items" in stated ? "0" : "NAME"}.`);
  return [];
}

function code(value: unknown): string {
  return value === undefined ? "" : `\`${String(value)}\``;
}

function cell(text: string): string {
  return text.replaceAll("|", "\\|");
}
