-- Which rows the names in a stored plan and in a draft mean, so that a thing may be renamed: {"field": {"3": "Creek"}, …}.
-- Of plans that are there already, by the blocks they wrote down; where those do not say, by today's names.

ALTER TABLE plan_input ADD COLUMN names TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(names));
ALTER TABLE draft ADD COLUMN names TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(names));

UPDATE plan_input SET names = (
  SELECT json_object(
    'field', json((SELECT json_group_object(CAST(field.id AS TEXT), coalesce(
        (SELECT b.field FROM plan_block b JOIN plan p ON p.id = b.planId
         WHERE b.fieldSeasonId = field_season.id AND p.inputHash = plan_input.hash LIMIT 1), field.name) ORDER BY field.id)
      FROM field_season JOIN field ON field.id = field_season.fieldId WHERE field_season.seasonId = made.seasonId)),
    'variety', json((SELECT json_group_object(CAST(variety.id AS TEXT), coalesce(
        (SELECT b.variety FROM plan_block b JOIN plan p ON p.id = b.planId
         WHERE b.varietyId = variety.id AND p.inputHash = plan_input.hash LIMIT 1), variety.name) ORDER BY variety.id)
      FROM variety WHERE variety.seasonId = made.seasonId)),
    'dealer', json((SELECT json_group_object(CAST(id AS TEXT), name ORDER BY id) FROM dealer WHERE seasonId = made.seasonId)),
    'window', json((SELECT json_group_object(CAST(planting_window.id AS TEXT), coalesce(
        (SELECT b.window FROM plan_block b JOIN plan p ON p.id = b.planId
         WHERE b.windowId = planting_window.id AND p.inputHash = plan_input.hash LIMIT 1), planting_window.name)
        ORDER BY planting_window.id)
      FROM planting_window WHERE planting_window.seasonId = made.seasonId)),
    'measure', json((SELECT json_group_object(CAST(id AS TEXT), name ORDER BY id) FROM measure WHERE seasonId = made.seasonId)))
  FROM (SELECT seasonId FROM plan WHERE plan.inputHash = plan_input.hash LIMIT 1) AS made
) WHERE hash IN (SELECT inputHash FROM plan);

UPDATE draft SET names = (
  SELECT json_object(
    'field', json((SELECT json_group_object(CAST(field.id AS TEXT), field.name ORDER BY field.id)
      FROM field_season JOIN field ON field.id = field_season.fieldId WHERE field_season.seasonId = draft.seasonId)),
    'variety', json((SELECT json_group_object(CAST(id AS TEXT), name ORDER BY id) FROM variety WHERE seasonId = draft.seasonId)),
    'dealer', json((SELECT json_group_object(CAST(id AS TEXT), name ORDER BY id) FROM dealer WHERE seasonId = draft.seasonId)),
    'window', json((SELECT json_group_object(CAST(id AS TEXT), name ORDER BY id) FROM planting_window WHERE seasonId = draft.seasonId)),
    'measure', json((SELECT json_group_object(CAST(id AS TEXT), name ORDER BY id) FROM measure WHERE seasonId = draft.seasonId)))
);
