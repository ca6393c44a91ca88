"use strict";

const API = document.documentElement.dataset.api.replace(/\/+$/, "");
const PATIENCE_MS = 20_000;
const UNREACHABLE = "The parts service cannot be reached. Check the connection and try again.";
const NO_ANSWER = "The parts service gave no answer that this page understands. Try again later.";
const at = (id) => document.getElementById(id);

/** Ask the API; what it refuses, or that it is not there, becomes an Error in words for the customer. */
async function ask(path) {
  let response;
  let body;
  try {
    response = await fetch(API + path, { headers: { Accept: "application/json" }, signal: AbortSignal.timeout(PATIENCE_MS) });
  } catch {
    throw new Error(UNREACHABLE);
  }
  try {
    body = await response.json();
  } catch {
    throw new Error(NO_ANSWER);
  }
  if (!response.ok) {
    throw new Error(body.detail ? `${body.title}. ${body.detail}` : NO_ANSWER);
  }
  return body;
}

/** All results of a list: each page names the path of the next. */
async function all(path) {
  const found = [];
  for (let next = path; next; ) {
    const page = await ask(next);
    found.push(...page.results);
    next = page.next;
  }
  return found;
}

/** An amount in minor units as the currency is written; one that has no code of three letters has two decimals. */
function priced(minorUnits, currency) {
  if (!/^[A-Za-z]{3}$/.test(currency)) {
    return `${currency} ${(minorUnits / 100).toFixed(2)}`;
  }
  const format = new Intl.NumberFormat("en-GB", { style: "currency", currency, currencyDisplay: "code" });
  return format.format(minorUnits / 10 ** format.resolvedOptions().maximumFractionDigits);
}

function option(value, text) {
  const made = document.createElement("option");
  made.value = value;
  made.textContent = text;
  return made;
}

function listed(list, texts) {
  list.replaceChildren(
    ...texts.map((text) => {
      const item = document.createElement("li");
      item.textContent = text;
      return item;
    }),
  );
}

function told(message) {
  at("message").textContent = message;
}

function hidden() {
  at("answer").hidden = true;
  at("none").hidden = true;
}

let latest = 0;

/** Do one thing at a time: an answer that was overtaken by another question is dropped. */
async function inTurn(words, work) {
  const turn = ++latest;
  hidden();
  told(words);
  try {
    const show = await work();
    if (turn === latest) {
      told("");
      show();
    }
  } catch (error) {
    if (turn === latest) {
      told(error.message);
    }
  }
}

function loadCars() {
  return inTurn("Loading the cars.", async () => {
    const cars = await all("/v1/chassis?limit=200");
    return () => {
      at("car").replaceChildren(option("", "Pick a car"), ...cars.map((car) => option(car.id, `${car.name}, ${car.engine}`)));
      at("car").disabled = false;
    };
  });
}

function loadLayouts() {
  const car = at("car").value;
  at("layout").replaceChildren(option("", "Pick the car first"));
  at("layout").disabled = true;
  at("show").disabled = true;
  if (!car) {
    latest += 1;
    hidden();
    told("");
    return undefined;
  }
  return inTurn("Looking at what goes with this car.", async () => {
    const { layouts, currency } = await ask(`/v1/chassis/${encodeURIComponent(car)}/layouts`);
    const possible = layouts.filter((layout) => layout.total_valid > 0);
    const others = layouts.filter((layout) => !layout.total_valid);
    return () => {
      at("layout").replaceChildren(
        option("", "Pick how the fuel runs"),
        ...possible.map((layout) => option(layout.layout, `${layout.name}, from ${priced(layout.lowest_price, currency)}`)),
        ...others.map((layout) => option(layout.layout, `${layout.name} (${layout.too_costly ? "show it for its price" : "not as this car is"})`)),
      );
      at("layout").disabled = false;
      at("show").disabled = false;
    };
  });
}

function showParts(event) {
  event.preventDefault();
  const query = new URLSearchParams({ chassis: at("car").value, layout: at("layout").value, limit: "1" });
  return inTurn("Looking for the parts.", async () => {
    const answer = await ask(`/v1/bills?${query}`);
    return () => (answer.bills.length ? showBill(answer) : showNone(answer));
  });
}

function row(line, currency) {
  const made = document.createElement("tr");
  const name = line.source === "elsewhere" ? `${line.name} (not sold here: buy it elsewhere)` : line.name;
  for (const text of [`${line.qty} ×`, line.sku, name, line.source === "buy" ? priced(line.price, currency) : "–"]) {
    made.insertCell().textContent = text;
  }
  return made;
}

function showBill(answer) {
  const bill = answer.bills[0];
  const needed = bill.lines.filter((line) => line.source === "buy" || line.source === "elsewhere");
  const days = bill.lead_days === 1 ? "1 day" : `${bill.lead_days} days`;
  at("answer-title").textContent = `${at("car").selectedOptions[0].textContent}: ${priced(bill.price, answer.currency)}`;
  at("summary").textContent = `The cheapest of ${answer.total_valid} complete sets. Lead time: ${days}.`;
  at("lines").replaceChildren(...needed.map((line) => row(line, answer.currency)));
  at("total").textContent = priced(bill.price, answer.currency);
  at("sheet").href = `${API}/v1/bills/${encodeURIComponent(bill.key)}/sheet`;
  const cautions = [...bill.cautions, ...bill.extras].map((entry) => entry.text);
  listed(at("cautions"), cautions.length ? cautions : ["Nothing beyond what holds for every set."]);
  listed(at("safety"), answer.safety);
  at("answer").hidden = false;
  at("answer-title").focus();
}

function showNone(answer) {
  listed(at("stories"), answer.stories.map((story) => story.text));
  listed(at("repairs"), answer.repairs.map((repair) => repair.text));
  at("repairs-title").hidden = answer.repairs.length === 0;
  at("none").hidden = false;
  at("none-title").focus();
}

at("car").addEventListener("change", loadLayouts);
at("layout").addEventListener("change", () => {
  latest += 1;
  hidden();
  told("");
});
at("question").addEventListener("submit", showParts);
loadCars();
