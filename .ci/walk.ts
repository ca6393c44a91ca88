// A partner's walk in strict TypeScript, by the types that openapi-typescript makes: node walk.js ADDRESS KEY
import createClient from "openapi-fetch";
import type { components, paths } from "./client";

declare const process: { argv: string[] };

export const question: components["schemas"]["DetailedRequest"] = { chassis: "a", layout: "b" };

const [address, key] = process.argv.slice(2);
const api = createClient<paths, "application/json">({ baseUrl: address, headers: { Authorization: `Bearer ${key}` } });

function told<T>(answer: { data?: T; error?: unknown }): T {
  if (answer.data === undefined) throw new Error(JSON.stringify(answer.error));
  return answer.data;
}

function had<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new Error(`there is no ${what}`);
  return value;
}

// Car, layouts, bills, key, order check, changes, webhook.
async function walk(): Promise<string> {
  const cars = told(await api.GET("/v1/chassis", { params: { query: { limit: 1 } } }));
  const car = had(cars.results[0], "car");
  const layouts = told(await api.GET("/v1/chassis/{id}/layouts", { params: { path: { id: car.id } } }));
  const layout = had(layouts.layouts.find((one) => (one.total_valid ?? 0) > 0), "layout with a bill").layout;
  const found = told(await api.POST("/v1/bills", { body: { chassis: car.id, layout } }));
  const bill = had(found.bills[0], "bill");
  const path = { params: { path: { key: bill.key } } };
  const again = told(await api.GET("/v1/bills/{key}", path)).bill;
  const lines = again.lines.filter((line) => line.source === "buy").map(({ sku, qty }) => ({ sku, qty }));
  const check = told(await api.POST("/v1/order-checks", { body: { key: bill.key, lines } }));
  const changes = told(await api.GET("/v1/changes", { params: { query: { since: 1 } } }));
  const made = told(
    await api.POST("/v1/webhooks", { body: { url: "http://127.0.0.1:9/", events: ["revision.published"] } }),
  );
  const hook = { params: { path: { id: made.id } } };
  told(await api.POST("/v1/webhooks/{id}/ping", hook));
  const messages = told(await api.GET("/v1/webhooks/{id}", hook)).messages ?? [];
  told(await api.DELETE("/v1/webhooks/{id}", hook));
  if (again.price !== bill.price || check.verdict !== "complete" || changes.since !== 1 || messages.length !== 1) {
    throw new Error(JSON.stringify({ again: again.price, bill: bill.price, check: check.verdict, messages }));
  }
  return bill.key;
}

walk().then((found) => console.log(`walked: ${found}`));
