// A rubric's condition in the browser. The tree is the service's (basis/formulas/tree.py), and so is the rule: arithmetic
// with an unknown value (null) is unknown, a comparison with one is false, and what has no finite number does not hold.
"use strict";

const noNumber = new Error("no finite number");

// Whether the condition holds, for `known(name)` giving a number, a text or null.
function formulaHolds(tree, known) {
  try {
    return formulaTrue(formulaValue(tree, known));
  } catch (stop) {
    if (stop === noNumber) return false;
    throw stop;
  }
}

function formulaTrue(value) {
  return value !== null && value !== false && value !== 0;
}

function formulaValue(node, known) {
  if (!Array.isArray(node)) return node;
  const [sign, ...parts] = node;
  switch (sign) {
    case "name": return known(parts[0]);
    case "text": return parts[0];
    case "and": return parts.every((part) => formulaTrue(formulaValue(part, known)));
    case "or": return parts.some((part) => formulaTrue(formulaValue(part, known)));
    case "not": return !formulaTrue(formulaValue(parts[0], known));
    case "in": case "not in": {
      const found = formulaValue(parts[0], known);
      return found !== null && parts[1].includes(found) === (sign === "in");
    }
  }
  const found = parts.map((part) => formulaValue(part, known));
  return sign in formulaComparisons ? formulaCompared(sign, found) : formulaReckoned(sign, found);
}

const formulaComparisons = {
  "<": (a, b) => a < b, "<=": (a, b) => a <= b, ">": (a, b) => a > b, ">=": (a, b) => a >= b,
  "==": (a, b) => a === b, "!=": (a, b) => a !== b,
};

function formulaCompared(sign, [left, right]) {
  if (left === null || right === null || (typeof left === "string") !== (typeof right === "string")) return false;
  if (typeof left === "string") return (sign === "==" || sign === "!=") && formulaComparisons[sign](left, right);
  return formulaComparisons[sign](Number(left), Number(right));
}

const formulaSigns = {
  "+": (a, b) => a + b, "-": (a, b) => (b === undefined ? -a : a - b), "*": (a, b) => a * b, "/": (a, b) => a / b,
  "min": Math.min, "max": Math.max, "abs": Math.abs, "sqrt": Math.sqrt,
};

function formulaReckoned(sign, parts) {
  if (parts.some((part) => part === null || typeof part === "string")) return null;
  const result = formulaSigns[sign](...parts.map(Number));
  if (!Number.isFinite(result)) throw noNumber;
  return result;
}

// Whether the formula reads this name.
function formulaReads(node, name) {
  if (!Array.isArray(node)) return false;
  return node[0] === "name" ? node[1] === name : node.some((part) => formulaReads(part, name));
}
