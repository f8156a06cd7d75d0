-- One row per haul and species that tell of sizes, or would: whether the fish were measured, or
-- none was caught by a haul of which others were measured, or why nothing is known of the species.
-- A haul of which nothing was measured is no zero for lack of a species: it would stand for hauls
-- that had some, which are left out.
with

measured as (
    select
        row,
        species,
        count(*) = count(fish) as is_whole
    from haul_lengths
    group by row, species
),

catch_rows as (
    select
        hauls.row,
        priced_catches.species,
        max(case when priced_catches.kg = 0 then 0 else 1 end) as has_some
    from priced_catches
    inner join hauls
        on priced_catches.vessel = hauls.vessel
        and priced_catches.trip = hauls.trip
        and priced_catches.haul = hauls.haul
    group by hauls.row, priced_catches.species
),

record as (
    select count(*) > 0 as has_catches from catch_rows
),

asked as (
    select
        each_haul.row,
        length_species.species
    from (select distinct row from measured) as each_haul
    cross join length_species
    union
    select
        haul_catches.row,
        catch_rows.species
    from haul_catches
    inner join catch_rows on haul_catches.row = catch_rows.row and catch_rows.has_some = 1
    inner join length_species on catch_rows.species = length_species.species
),

final as (
    select
        asked.row,
        asked.species,
        measured_hauls.vessel,
        measured_hauls.trip,
        measured_hauls.haul,
        measured_hauls.shot_at,
        measured_hauls.net_side,
        measured_hauls.tow_hours,
        haul_patterns.pattern,
        case
            when measured.is_whole then 'measured'
            when measured.row is not null then 'not known'
            when catch_rows.has_some = 1 then 'not measured'
            when record.has_catches and haul_catches.row is null then 'not known'
            else 'none'
        end as told
    from asked
    cross join record
    inner join measured_hauls on asked.row = measured_hauls.row
    inner join haul_patterns on asked.row = haul_patterns.row
    left join measured on asked.row = measured.row and asked.species = measured.species
    left join catch_rows on asked.row = catch_rows.row and asked.species = catch_rows.species
    left join haul_catches on asked.row = haul_catches.row
)

select * from final
order by species, vessel, trip, haul
