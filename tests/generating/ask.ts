/* Asks a service by the client that was generated for it: `ask.js ADDRESS FILE`, a JSON file of requests. */
import { readFileSync } from "node:fs";
import createClient from "openapi-fetch";
import type { components, paths } from "./api.js";

type Schemas = components["schemas"];
interface Requests {
  spec: Schemas["Spec"];
  refused: Schemas["Spec"];
  quote: Schemas["QuoteRequest"];
  design: string;
  choices: Record<string, string>;
}

const [address, file] = process.argv.slice(2) as [string, string];
const { spec, refused, quote, design, choices }: Requests = JSON.parse(readFileSync(file, "utf-8"));
const client = createClient<paths, "application/json">({
  baseUrl: address,
  querySerializer: { object: { style: "form", explode: true } },
});

const made = await client.POST("/v1/patterns", { body: spec });
const pattern: Schemas["Pattern"] = made.data!;
const drawn = await client.GET("/v1/patterns/{code}.png", {
  params: { path: { code: pattern.code }, query: { width_px: 300 } },
  parseAs: "arrayBuffer",
});
const picture: ArrayBuffer = drawn.data!;
const quoted = await client.POST("/v1/quotes", { body: quote });
const lines: { ref: string; total: string }[] = quoted.data!.lines;
const params = { path: { design }, query: { choices } };
const chosen = await client.GET("/v1/designs/{design}/pattern.json", { params });
const length: string = chosen.data!.finished.length;
const priced = await client.GET("/v1/designs/{design}/price", { params });
const price: string = priced.data!.price;
const wrong = await client.POST("/v1/patterns", { body: refused });

console.log(
  JSON.stringify({
    pattern,
    quote: quoted.data,
    as_chosen: chosen.data,
    price: priced.data,
    refused: wrong.error,
    picture: Buffer.from(picture).toString("base64"),
    read: { lines: lines.length, length, price },
  }),
);
