/** What the command line says of itself. */
export const usage = `standwell plan FILE.season.json [--out plan.json] [--gap 0.001] [--time 60] [--json]
standwell solve PROBLEM.json    [--out plan.json] [--gap 0.001] [--time 60] [--json]
standwell orders FILE.season.json [--plan plan.json] [--today 2027-01-20] [--gap 0.001] [--time 60] [--json | --csv]
standwell calendar FARM.farm [--season 2027] [--today 2027-01-20] [--json | --csv | --ics] [--out FILE]
standwell import FARM.farm FILE... [--dry-run] [--answers ANSWERS.json] [--accept] [--leave] [--json]
standwell receive FARM.farm DELIVERY.json [--today 2027-04-20] [--confirm] [--json]
standwell rates FARM.farm [--today 2027-04-20] [--json | --csv]
standwell trace FARM.farm [--lot NUMBER | --field NAME] [--json]
standwell roll FILE.season.json|FARM.farm [--plan plan.json] [--grew FIELD=CROP]... [--out next.season.json]
standwell archive FARM.farm [--season 2027] [--out FILE.season.json]
standwell review FARM.farm [--season 2027] [--json | --csv]
standwell backup FARM.farm [--json]
standwell restore FARM.farm [BACKUP] [--json]
standwell schema season|problem|delivery

plan    the season's cheapest plan: orders and fields
solve   the same for options already priced, without the agronomy
orders  one order for each dealer, of the season's cheapest plan or of a plan written before
calendar what is planted and dug in which week, of the plan in a farm file, against what the machines can do
import  reads spreadsheets (CSV, XLSX) and boundaries (KML, GeoJSON, zipped shapefile) into a farm file
receive writes a load with its lots and tags into a farm file, and says what is owed
rates   the rates of the lots on hand beside those planned, and what is short or left
trace   which lot went into which field, and which field had which lot
roll    the next season from this one: histories moved on, quotes cleared; the file given is not changed
archive a season with all that happened in it, as one file that plan reads
review  what a season cost and brought, by field, variety, dealer and lot, against its plan
backup  a backup in the folder beside the farm
restore goes back to a backup, or lists them; what the farm was before is kept among them
schema  the JSON Schema of what plan, solve and receive read

--gap   stop when proven within this share of the least cost; 0 for the very best
--time  stop after so many seconds with the best plan so far
--out   write the plan with its proof to a file
--json  print the plan with its proof, or the orders, as data instead of tables
--csv   print the orders as one table for a spreadsheet
--ics   print the calendar as iCalendar events (RFC 5545)
--plan  take the orders from this plan of the same season instead of working one out
--today the day it is taken to be: quotes that ended before it are left out, nothing is dated after it
--dry-run show what an import would do; nothing is written
--answers a file of answers to what an import asks: {"answers": {...}, "choices": {...}}, by the keys in its --json
--accept answer what is asked with what is most likely; --leave import what is good and leave the rest
--confirm write a load although a day, weight or variety in it looks like a slip of typing
--grew  what grew in a field of the season that ends; peanut where --plan or the farm’s plantings say so
--season which season of the farm; without it the open one
--lot   only lots of this number; --field only this field

Exit code: 0 a plan · 1 nothing fits, or nothing found in time, or an import asks or refuses something · 2 something is wrong with the input
`
