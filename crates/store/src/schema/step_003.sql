-- Step 3: what work costs and a ring is worth, so that the blade chart can decide by money.

alter table workshop add column hour_cost_typed text;   -- as typed: "38 EUR"; null: not said
alter table workshop add column ring_worth_typed text;  -- beyond its metal; null: not said
alter table workshop add column scrap_paid_typed text;  -- share of the metal's price: "80 %"; null: not said
